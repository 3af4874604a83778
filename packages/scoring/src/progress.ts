import { minimalDetectableChange, reliableChangeIndex, typicalError } from './reliability.ts'

/** One test of the two, in its score unit. */
export interface Tested {
  amount: number
  unit: string
  /** '60th', 'below 10th': after the raw values, and with the band of its own day. */
  percentileLabel: string
  group: string
  /** How it was measured: protocol, timing, track, foot-line, place in the day. Where one differs the two are not directly comparable. */
  method: Readonly<Record<string, string>>
  /** What is only noted: heat, who measured. */
  circumstances: Readonly<Record<string, string>>
}

/** How far two measurements of an unchanged person differ, in the score unit, and who says so. */
export interface Reliability {
  standardError: number
  unit: string
  source: string
}

export interface Progress {
  /** Later minus first, in the score unit. */
  difference: number
  /** Null where no direction may be shown. */
  direction: 'better' | 'worse' | 'same' | null
  verdict: 'clearChange' | 'possibleChange' | 'noClearChange' | 'errorNotKnown' | 'notDirectlyComparable'
  /** What of the method differed. */
  differs: readonly string[]
  notes: readonly string[]
  standardError: number | null
  minimalDetectableChange: number | null
  reliableChangeIndex: number | null
  source: string | null
}

/**
 * From the first test to the later one, in raw units. A difference within the measurement error is no clear change, and
 * two measurements that were made differently are not compared.
 */
export function progress(first: Tested, later: Tested, betterIs: 'higher' | 'lower', reliability: Reliability | null): Progress {
  const differs = [...differing(first.method, later.method), ...(first.unit === later.unit ? [] : ['unit'])]
  const difference = later.amount - first.amount
  const known = reliability && reliability.unit === later.unit && differs.length === 0 ? reliability : null
  const verdict = differs.length > 0 ? 'notDirectlyComparable' : known ? verdictOf(difference, known.standardError) : 'errorNotKnown'
  const showsDirection = verdict === 'clearChange' || verdict === 'possibleChange' || verdict === 'errorNotKnown'
  return {
    difference,
    direction: showsDirection ? directionOf(difference, betterIs) : null,
    verdict,
    differs,
    notes: differing(first.circumstances, later.circumstances),
    standardError: known?.standardError ?? null,
    minimalDetectableChange: known ? minimalDetectableChange(known.standardError) : null,
    reliableChangeIndex: known ? reliableChangeIndex(first.amount, later.amount, known.standardError) : null,
    source: known?.source ?? null,
  }
}

/** Beyond the minimal detectable change: clear. Beyond the standard error only: possible. */
function verdictOf(difference: number, standardError: number): 'clearChange' | 'possibleChange' | 'noClearChange' {
  const size = Math.abs(difference)
  if (size >= minimalDetectableChange(standardError)) return size > 0 ? 'clearChange' : 'noClearChange'
  return size > standardError ? 'possibleChange' : 'noClearChange'
}

const directionOf = (difference: number, betterIs: 'higher' | 'lower'): 'better' | 'worse' | 'same' =>
  difference === 0 ? 'same' : difference > 0 === (betterIs === 'higher') ? 'better' : 'worse'

function differing(one: Readonly<Record<string, string>>, other: Readonly<Record<string, string>>): string[] {
  const names = [...new Set([...Object.keys(one), ...Object.keys(other)])].sort()
  return names.filter((name) => one[name] !== other[name])
}

/** Fewer double measurements than this say too little about a site's own error. */
const fewestPairs = 20

/** The site's own error from people measured twice without training between; refused for fewer than 20 pairs. */
export function ownReliability(
  pairs: readonly (readonly [number, number])[],
  unit: string,
): Reliability | { refused: 'tooFewPairs'; needs: number } {
  if (pairs.length < fewestPairs) return { refused: 'tooFewPairs', needs: fewestPairs }
  const differences = pairs.map(([first, second]) => second - first)
  return { standardError: typicalError(differences), unit, source: `this site’s own ${pairs.length} double measurements` }
}

/** Published errors, from the readers of the original tables. None is offered for the run, whose sources are weak: a site measures its own. */
export const publishedReliability = {
  /** J Sports Sci Med 2009;8:116, table 1: ICC .97 and .98. */
  sitAndReach: {
    M: { standardError: 14, unit: 'millimetres', source: 'J Sports Sci Med 2009;8:116, men: 1.4 cm' },
    W: { standardError: 13, unit: 'millimetres', source: 'J Sports Sci Med 2009;8:116, women: 1.3 cm' },
  },
} as const satisfies Record<string, Record<'M' | 'W', Reliability>>

/** Grgic et al. 2020, 32 studies of one-repetition maxima: the median of the coefficients of variation is 4.2 percent of the load. */
export const publishedLiftReliability = (amount: number, unit: string): Reliability => ({
  standardError: 0.042 * amount,
  unit,
  source: 'Grgic et al. 2020, Sports Med Open 6:31: median 4.2 % of the load',
})
