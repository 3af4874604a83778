import { exact, type Exact, plus, times } from './exact.ts'
import { type Temperature, toScale } from './temperature.ts'

// Occupational limits, for context: one-hour averages of WBGT plus the clothing factor, against the rate of work.
// Source: NIOSH 2016-106; the curve for the unacclimatised was not read in the document itself.

/** Recommended exposure limit, °C WBGT, acclimatised. */
export const nioshRelDegC = (metabolicRateW: number) => 56.7 - 11.5 * Math.log10(metabolicRateW)

/** Recommended alert limit, °C WBGT, unacclimatised. */
export const nioshRalDegC = (metabolicRateW: number) => 59.9 - 14.1 * Math.log10(metabolicRateW)

/** The time-weighted average of WBGT over parts of an hour, exactly. Throws when no time went by. */
export function timeWeighted(parts: readonly { wbgt: Temperature; duration: Exact }[]): Temperature {
  const [first] = parts
  const whole = parts.map(({ duration }) => duration).reduce(plus, exact(0))
  if (!first || whole.top <= 0n || parts.some(({ duration }) => duration.top < 0n)) throw new RangeError('no time went by')
  const { scale } = first.wbgt
  const sum = parts.map(({ wbgt, duration }) => times(toScale(wbgt, scale).degrees, duration)).reduce(plus, exact(0))
  return { degrees: times(sum, exact(whole.bottom, whole.top)), scale }
}
