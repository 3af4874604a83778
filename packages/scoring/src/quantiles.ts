/** R type 7 (Hyndman & Fan 1996): linear between order statistics at (n − 1)p. NaN of nothing. */
export function quantile(values: readonly number[], p: number): number {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`no quantile ${p}`)
  const sorted = [...values].sort((a, b) => a - b)
  const place = (sorted.length - 1) * p
  const below = Math.floor(place)
  const lower = sorted[below] ?? NaN
  const upper = sorted[below + 1] ?? lower
  return lower + (place - below) * (upper - lower)
}

/**
 * Harrell & Davis 1982: every order statistic with its beta weight. Smoother in small groups, not robust at the tails.
 * Computed once, when a table is built, and never in a fold.
 */
export function harrellDavis(values: readonly number[], p: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`no Harrell-Davis quantile ${p}`)
  const sorted = [...values].sort((a, b) => a - b)
  const n = sorted.length
  const share = (index: number) => betaShareBelow(index / n, (n + 1) * p, (n + 1) * (1 - p))
  return sorted.map((value, index) => value * (share(index + 1) - share(index))).reduce((sum, value) => sum + value, 0)
}

/** The middle of the ranks that equal values share: 100·(worse + ties/2)/n, with the person counted in if they stand in the group. */
export function midrankPercentile(values: readonly number[], value: number, betterIs: 'higher' | 'lower'): number {
  const worse = values.filter((other) => (betterIs === 'higher' ? other < value : other > value)).length
  const ties = values.filter((other) => other === value).length
  return (100 * (worse + ties / 2)) / values.length
}

/** Regularised incomplete beta function I_x(a, b), by its continued fraction (modified Lentz). */
export function betaShareBelow(x: number, a: number, b: number): number {
  if (x <= 0) return 0
  if (x >= 1) return 1
  const front = Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log(1 - x))
  return x < (a + 1) / (a + b + 2) ? (front * betaFraction(x, a, b)) / a : 1 - (front * betaFraction(1 - x, b, a)) / b
}

function betaFraction(x: number, a: number, b: number): number {
  const tiny = 1e-300
  const apart = (value: number) => (Math.abs(value) < tiny ? tiny : value)
  let c = 1
  let d = 1 / apart(1 - ((a + b) * x) / (a + 1))
  let fraction = d
  for (let m = 1; m <= 100_000; m += 1) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m))
    d = 1 / apart(1 + even * d)
    c = apart(1 + even / c)
    fraction *= d * c
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1))
    d = 1 / apart(1 + odd * d)
    c = apart(1 + odd / c)
    fraction *= d * c
    if (Math.abs(d * c - 1) < 1e-15) return fraction
  }
  throw new Error(`the beta function of ${a} and ${b} did not settle at ${x}`)
}

/** Stirling's series for ln Γ, after stepping up to where it is exact to the last digits. */
function logGamma(x: number): number {
  if (x < 15) return logGamma(x + 1) - Math.log(x)
  const square = x * x
  const series = (1 / 12 - (1 / 360 - (1 / 1260 - (1 / 1680 - 1 / (1188 * square)) / square) / square) / square) / x
  return (x - 0.5) * Math.log(x) - x + Math.log(2 * Math.PI) / 2 + series
}
