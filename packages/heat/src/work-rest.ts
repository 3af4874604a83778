// Pacing of a day, from the card of TB MED 507 as reprinted 2003 to 2019: for heat-acclimatised, average-sized people in
// a summer uniform, four hours of work and more. A maximal test is beyond its hard work: the card says how to pace a day,
// not whether a maximal run is acceptable.

export type Work = 'easy' | 'moderate' | 'hard'

export interface Pace {
  /** Minutes of work and rest in each hour; null where the card sets no limit. */
  readonly workRest: { readonly workMinutes: number; readonly restMinutes: number } | null
  /** Individual need varies by a quarter of a quart either way. */
  readonly waterQuarterQuartsPerHour: number
}

const pace = (workMinutes: number | null, waterQuarterQuartsPerHour: number): Pace => ({
  workRest: workMinutes === null ? null : { workMinutes, restMinutes: 60 - workMinutes },
  waterQuarterQuartsPerHour,
})

/** Category 3 easy is half a quart in an older print. */
const card: Readonly<Record<number, Readonly<Record<Work, Pace>>>> = {
  1: { easy: pace(null, 2), moderate: pace(null, 3), hard: pace(40, 3) },
  2: { easy: pace(null, 2), moderate: pace(50, 3), hard: pace(30, 4) },
  3: { easy: pace(null, 3), moderate: pace(40, 3), hard: pace(30, 4) },
  4: { easy: pace(null, 3), moderate: pace(30, 3), hard: pace(20, 4) },
  5: { easy: pace(50, 4), moderate: pace(20, 4), hard: pace(10, 4) },
}

/** The row of the card for a category of TB MED 507, or nothing below category 1. */
export function paceOf(category: number, work: Work): Pace | undefined {
  return card[category]?.[work]
}

/** US quarts to litres, by definition of the quart. */
export const litresPerQuart = 0.946352946

/**
 * Never drink more, in quarts: people died after 5 L and more within a few hours.
 *
 * Source: TB MED 507; NIOSH hydration fact sheet.
 */
export const mostFluidQuarts = { perHour: 1.5, perDay: 12 }
