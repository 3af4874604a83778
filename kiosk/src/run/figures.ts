import { raceTime } from '../words/figures.ts'

/** A lap as it is said beside a track: tenths, cut. `2:01.4`. */
export const lapTime = (milliseconds: number): string => raceTime(Math.floor(milliseconds / 10), 1)

/** An interval or a pace that is talked about: whole seconds, to the nearest. `4:05`. */
export const roundTime = (milliseconds: number): string => raceTime(Math.round(milliseconds / 1000) * 100, 0)

/** A pace that is called “about”: to the nearest five seconds. */
export const aboutTime = (milliseconds: number): string => raceTime(Math.round(milliseconds / 5000) * 500, 0)
