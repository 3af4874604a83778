import { normalQuantile } from './normal.ts'

/** Cole & Green 1992: skewness L, median M, coefficient of variation S of a group of one age. Computed once, never in a fold. */
export interface Lms {
  L: number
  M: number
  S: number
}

/** How many standard deviations the value lies above the median of its skewed distribution. */
export const lmsZ = (value: number, { L, M, S }: Lms): number =>
  L === 0 ? Math.log(value / M) / S : (Math.pow(value / M, L) - 1) / (L * S)

/** The value below which this share of the group lies, 0 to 100: a lower tail, whichever way is better. */
export function lmsValueAt(centile: number, { L, M, S }: Lms): number {
  const z = normalQuantile(centile / 100)
  return L === 0 ? M * Math.exp(S * z) : M * Math.pow(1 + L * S * z, 1 / L)
}
