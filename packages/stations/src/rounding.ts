/** How a value is brought to its last place: `up` and `down` go along the number line, `nearest` takes the upper of two equally near. */
export interface Rounding {
  rule: 'up' | 'down' | 'nearest' | 'none'
  /** The step to round to, a whole number of the score's unit. */
  to: number
}

/** Rounds a whole amount in its own unit. Called once for each score, on what was read and never on what was rounded already. */
export const roundOnce = (amount: number, rounding: Rounding): number => roundRatio(amount, 1, rounding)

/**
 * Rounds the exact fraction `numerator / denominator` without ever forming it, so that 72.5 is a half and 109.999… is not.
 *
 * @throws RangeError when the numbers are not whole, or too large to be exact, or when nothing was to be rounded and the fraction is not whole
 */
export function roundRatio(numerator: number, denominator: number, { rule, to }: Rounding): number {
  const step = rule === 'none' ? denominator : denominator * to
  if (![numerator, 2 * numerator, step, 2 * step].every(Number.isSafeInteger) || step <= 0) {
    throw new RangeError(`cannot round ${numerator}/${denominator} to ${to} exactly`)
  }
  const over = ((numerator % step) + step) % step
  const below = (numerator - over) / step
  if (rule === 'none') {
    if (over !== 0) throw new RangeError(`${numerator}/${denominator} is not whole, and no rounding was named`)
    return below
  }
  const isUp = rule === 'up' ? over > 0 : rule === 'nearest' && 2 * over >= step
  return (below + (isUp ? 1 : 0)) * to + 0
}

/** The rule in words, for a score's working. */
export const sayRounding = ({ rule, to }: Rounding, step: string): string =>
  rule === 'none'
    ? 'not rounded'
    : rule === 'nearest'
      ? `to the nearest ${step}, halves up`
      : `${rule} to the next ${to === 1 ? '' : 'whole '}${step}`
