/*
 * Estimates of VO2max, mL/kg/min, each by the name of its publication. Beside the run's time, never instead of it.
 */

/** ACSM, from the time over 1.5 miles in minutes: their running equation over 2414 m. */
export const acsmRun = (minutes: number): number => 3.5 + 483 / minutes

/** The time over 1.5 miles, in minutes, that the same equation gives for a VO2max. */
export const acsmRunMinutes = (vo2max: number): number => 483 / (vo2max - 3.5)

/** Cooper 1968, from the metres covered in 12 minutes. */
export const cooperTwelveMinutes = (metres: number): number => (metres - 504.9) / 44.73

/** George et al. 1993, 1.5-mile run (coefficients from memory; made with relatively fit students of 18 to 29). */
export const georgeRun = (massKg: number, minutes: number, sex: 'M' | 'W'): number =>
  88.02 - 0.1656 * massKg - 2.76 * minutes + (sex === 'M' ? 3.716 : 0)

/** George et al. 1993, one-mile track jog with the heart rate at its end. Heart rate is health data: only where the medical role allows it. */
export const georgeJog = (massKg: number, minutes: number, sex: 'M' | 'W', beatsPerMinute: number): number =>
  100.5 + (sex === 'M' ? 8.344 : 0) - 0.1636 * massKg - 1.438 * minutes - 0.1928 * beatsPerMinute
