// Getting used to heat. The sources define it differently, so days of exposure are kept and each policy derives its own.

/**
 * The most exposure on a day at work in heat, in percent of the usual: a new person 20 on the first day and 20 points
 * more each day, an experienced one who returns 50, 60, 80 and 100.
 *
 * Source: NIOSH and OSHA acclimatisation schedules. Days count from 1; throws on anything else.
 */
export function mostExposurePercent(who: 'new' | 'returning', day: number): number {
  if (!Number.isInteger(day) || day < 1) throw new RangeError(`days count from 1: ${day}`)
  return who === 'new' ? Math.min(20 * day, 100) : ([50, 60, 80][day - 1] ?? 100)
}

/** When somebody counts as acclimatised. */
export interface Acclimatised {
  readonly citation: string
  /** Days with exertion in heat. */
  readonly daysOfExposure: number
  /** It is being lost once this many days went by without. */
  readonly lostAfterDaysAway: number
}

export const acclimatisedBy = {
  niosh: { citation: 'NIOSH 2016-106: 7 to 14 days with about 2 hours of exertion', daysOfExposure: 14, lostAfterDaysAway: 7 },
  acsm2007: { citation: 'Armstrong et al. 2007: at least 3 weeks of training in heat', daysOfExposure: 21, lostAfterDaysAway: 7 },
  navmed: { citation: 'NAVMED P-5010-3: 12 weeks for the red flag', daysOfExposure: 84, lostAfterDaysAway: 7 },
} as const satisfies Record<string, Acclimatised>

/**
 * Does somebody count as acclimatised on a day? Only an unbroken series up to that day counts; a gap as long as the
 * definition's starts it anew.
 *
 * @param exposed days with exertion in heat, as day numbers, in any order
 */
export function isAcclimatised(exposed: readonly number[], today: number, by: Acclimatised): boolean {
  const days = [...new Set(exposed)].filter((day) => day < today).sort((one, other) => other - one)
  const gap = days.findIndex((day, index) => (days[index - 1] ?? today) - day > by.lostAfterDaysAway)
  return (gap < 0 ? days.length : gap) >= by.daysOfExposure
}
