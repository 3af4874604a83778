/*
 * The normal distribution, from its power series (Marsaglia 2004) and bisection. `Math.exp` differs in its last bit between
 * engines: these are computed once, when a table is built or a report is made, and never in a fold.
 */

const density = (z: number): number => Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)

/** The share below z. */
export function normalShareBelow(z: number): number {
  if (z < -8) return 0
  if (z > 8) return 1
  let term = z
  let sum = z
  for (let odd = 3; Math.abs(term) > 1e-18; odd += 2) {
    term *= (z * z) / odd
    sum += term
  }
  return 0.5 + sum * density(z)
}

/** The z below which this share lies, 0 < share < 1. */
export function normalQuantile(share: number): number {
  if (!(share > 0 && share < 1)) throw new RangeError(`no quantile of ${share}`)
  let low = -8
  let high = 8
  while (high - low > 1e-13) {
    const middle = (low + high) / 2
    if (normalShareBelow(middle) < share) low = middle
    else high = middle
  }
  return (low + high) / 2
}

/**
 * How many within-person standard deviations the best of n trials flatters by, on average: the expected largest of n
 * standard normal values, by Simpson's rule.
 */
export function expectedBestOf(trials: number): number {
  if (!Number.isInteger(trials) || trials < 1) throw new RangeError(`${trials} trials`)
  const step = 0.01
  const at = (z: number) => z * trials * density(z) * normalShareBelow(z) ** (trials - 1)
  const sum = Array.from({ length: 1601 }, (_, index) => {
    const weight = index === 0 || index === 1600 ? 1 : index % 2 === 1 ? 4 : 2
    return weight * at(-8 + index * step)
  }).reduce((total, value) => total + value, 0)
  return (sum * step) / 3
}
