/** How evenly a run was run. Laps in any one unit of time; what is returned is in that unit. */
export const evenLap = (time: number, laps: number): number => time / laps

/** Standard deviation over mean, of these laps and not of a population that they stand for: divided by n. */
export function coefficientOfVariationPercent(laps: readonly number[]): number {
  const mean = sum(laps) / laps.length
  const variance = sum(laps.map((lap) => (lap - mean) * (lap - mean))) / laps.length
  return (100 * Math.sqrt(variance)) / mean
}

/** Positive when the second half was slower. A middle lap belongs to both halves and so to neither. */
export function secondMinusFirstHalf(laps: readonly number[]): number {
  const half = laps.length >> 1
  return sum(laps.slice(laps.length - half)) - sum(laps.slice(0, half))
}

/** The largest distance, in time, between a split as run and the same split at even pace. */
export function largestDepartureFromEvenPace(laps: readonly number[]): number {
  const even = evenLap(sum(laps), laps.length)
  return Math.max(0, ...laps.map((_, index) => Math.abs(sum(laps.slice(0, index + 1)) - even * (index + 1))))
}

/** How much faster the last lap was than the mean of those before it. */
export const lastLapKick = (laps: readonly number[]): number => sum(laps.slice(0, -1)) / (laps.length - 1) - (laps.at(-1) ?? NaN)

/** Rule of thumb, from memory: a spread above 5 percent, or lap 4 or 5 slower than the first by 10, marks uneven pacing. */
export const isUneven = (laps: readonly number[]): boolean =>
  coefficientOfVariationPercent(laps) > 5 || laps.slice(3, 5).some((lap) => lap > 1.1 * (laps[0] ?? NaN))

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0)
