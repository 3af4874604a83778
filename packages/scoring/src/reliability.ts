/*
 * Is a change larger than what two measurements of an unchanged person differ by? Names as in Weir 2005, Hopkins 2000,
 * Jacobson & Truax 1991, Ulijaszek & Kerr 1999, Bland & Altman 1986. Everything comes out in the unit that goes in.
 */

/** The two-sided 95 percent point of the normal distribution. */
export const z95 = 1.959963984540054

/** SD·√(1 − ICC). */
export const standardError = (standardDeviation: number, icc: number): number => standardDeviation * Math.sqrt(1 - icc)

/** The smallest change that measurement alone hardly ever makes: 1.96·√2·SEM. */
export const minimalDetectableChange = (standardErrorOfMeasurement: number): number => z95 * Math.SQRT2 * standardErrorOfMeasurement

/** Change over the standard error of a difference: beyond ±1.96 is more than measurement. */
export const reliableChangeIndex = (first: number, later: number, standardErrorOfMeasurement: number): number =>
  (later - first) / (Math.SQRT2 * standardErrorOfMeasurement)

/** Sample SD of the differences between two measurements, over √2. Needs two differences at least. */
export const typicalError = (differences: readonly number[]): number => sampleDeviation(differences) / Math.SQRT2

/** √(Σd²/2n) over pairs. */
export function technicalError(first: readonly number[], second: readonly number[]): number {
  if (first.length !== second.length || first.length === 0) throw new RangeError('technical error needs pairs')
  const squares = first.map((value, index) => square(value - (second[index] ?? NaN)))
  return Math.sqrt(total(squares) / (2 * first.length))
}

/** Technical error in percent of the mean of all readings. */
export const relativeTechnicalErrorPercent = (first: readonly number[], second: readonly number[]): number =>
  (100 * technicalError(first, second)) / mean([...first, ...second])

/** 1 − TEM²/SD², SD over all readings: how much of the spread is not error. */
export const reliabilityCoefficient = (first: readonly number[], second: readonly number[]): number =>
  1 - square(technicalError(first, second) / sampleDeviation([...first, ...second]))

export interface Agreement {
  pairs: number
  /** Second minus first, on average. */
  bias: number
  standardDeviation: number
  /** Bias ± 1.96 sample SD of the differences: about 95 of 100 differences lie between, if they spread as a normal distribution does. */
  lower: number
  upper: number
}

/** Two raters or two methods on the same things (Bland & Altman 1986). Needs two pairs at least: one has no spread. */
export function limitsOfAgreement(first: readonly number[], second: readonly number[]): Agreement {
  if (first.length !== second.length || first.length < 2) throw new RangeError('limits of agreement need two pairs at least')
  const differences = first.map((value, index) => (second[index] ?? NaN) - value)
  const [bias, standardDeviation] = [mean(differences), sampleDeviation(differences)]
  return { pairs: first.length, bias, standardDeviation, lower: bias - z95 * standardDeviation, upper: bias + z95 * standardDeviation }
}

/** What a retest is expected to show by chance alone, after choosing somebody for a first score. */
export const expectedRetest = (score: number, groupMean: number, icc: number): number => groupMean + icc * (score - groupMean)

export const mean = (values: readonly number[]): number => total(values) / values.length

export function sampleDeviation(values: readonly number[]): number {
  const middle = mean(values)
  return Math.sqrt(total(values.map((value) => square(value - middle))) / (values.length - 1))
}

const square = (value: number): number => value * value
const total = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0)
