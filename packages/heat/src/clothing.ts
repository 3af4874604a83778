import { type Exact, exact, plus } from './exact.ts'
import type { ClothingAddition } from './policies.ts'
import { differenceToScale, type Scale, type Temperature } from './temperature.ts'

/**
 * The WBGT that a station with gear gates on. The measured one stays as it is beside it, and is the one that everybody
 * is shown.
 */
export const adjustedWbgt = (measured: Temperature, clothing: ClothingAddition): Temperature =>
  raisedBy(measured, exact(clothing.tenths, 10), clothing.unit)

/** A WBGT raised by a difference on any scale: it is scaled, never moved by 32. Exact; rounded by whoever looks it up. */
export const raisedBy = (measured: Temperature, difference: Exact, scale: Scale): Temperature => ({
  degrees: plus(measured.degrees, differenceToScale(difference, scale, measured.scale)),
  scale: measured.scale,
})

/** Clothing factors, °C, for occupational limits. Source: ACGIH, in OSHA Technical Manual III:4. Not for the flag tables. */
export const occupationalClothing: readonly ClothingAddition[] = [
  { id: 'workClothes', name: 'work clothes', tenths: 0, unit: 'degC' },
  { id: 'coveralls', name: 'coveralls', tenths: 0, unit: 'degC' },
  { id: 'smsCoverall', name: 'SMS polypropylene coverall', tenths: 5, unit: 'degC' },
  { id: 'polyolefin', name: 'polyolefin coverall', tenths: 10, unit: 'degC' },
  { id: 'doubleLayer', name: 'double-layer woven clothing', tenths: 30, unit: 'degC' },
  { id: 'vapourBarrier', name: 'limited-use vapour-barrier coverall', tenths: 110, unit: 'degC' },
]
