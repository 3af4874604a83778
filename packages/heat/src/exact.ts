/**
 * An exact number: a ratio of integers, the lower one above zero. Sums of weighted tenths come out on the bound or off
 * it, never a last bit below it as they do in binary doubles (0.7 × 75.5 + 0.2 × 104.1 + 0.1 × 83.3 is 82, not
 * 81.99999999999999). It lives only inside a computation; what is kept is an integer in a named unit.
 */
export interface Exact {
  readonly top: bigint
  readonly bottom: bigint
}

/** The ratio of two integers. Throws when `bottom` is zero or either is not an integer. */
export function exact(top: number | bigint, bottom: number | bigint = 1): Exact {
  const ratio = { top: BigInt(top), bottom: BigInt(bottom) }
  if (ratio.bottom === 0n) throw new RangeError('a ratio needs something to divide by')
  return ratio.bottom < 0n ? { top: -ratio.top, bottom: -ratio.bottom } : ratio
}

/** A decimal as it is written, `89.95` or `1e-7`: no digit of it is lost. Throws when the text is not a decimal. */
export function exactDecimal(text: string): Exact {
  const parts = /^([+-]?)(\d+)(?:\.(\d+))?(?:[eE]([+-]?\d{1,3}))?$/.exec(text.trim())
  if (!parts) throw new RangeError(`not a decimal number: ${text}`)
  const [, sign = '', whole = '', fraction = '', power = '0'] = parts
  const digits = BigInt(`${sign === '-' ? '-' : ''}${whole}${fraction}`)
  const places = fraction.length - Number(power)
  return places >= 0 ? exact(digits, 10n ** BigInt(places)) : exact(digits * 10n ** BigInt(-places))
}

export const plus = (one: Exact, other: Exact): Exact =>
  one.bottom === other.bottom
    ? { top: one.top + other.top, bottom: one.bottom }
    : { top: one.top * other.bottom + other.top * one.bottom, bottom: one.bottom * other.bottom }

export const minus = (one: Exact, other: Exact): Exact => plus(one, { top: -other.top, bottom: other.bottom })

export const times = (one: Exact, other: Exact): Exact => ({ top: one.top * other.top, bottom: one.bottom * other.bottom })

/** Below zero when `one` is the smaller, above when it is the larger, zero when they are the same number. */
export function compare(one: Exact, other: Exact): number {
  const difference = one.top * other.bottom - other.top * one.bottom
  return difference < 0n ? -1 : difference > 0n ? 1 : 0
}

/** How many whole `1/parts` it is, a half counting upward, below zero as well: 89.95 in tenths is 900, -0.05 is 0. */
export function roundHalfUp(value: Exact, parts: number): number {
  const top = 2n * value.top * BigInt(parts) + value.bottom
  const bottom = 2n * value.bottom
  const towardsZero = top / bottom
  return Number(top % bottom < 0n ? towardsZero - 1n : towardsZero)
}

/** The nearest double, for formulas that are estimates anyway. */
export function asNumber(value: Exact): number {
  const whole = value.top / value.bottom
  return Number(whole) + Number(value.top % value.bottom) / Number(value.bottom)
}
