import { type Exact, exact, minus, plus, times } from './exact.ts'
import type { Measured, Unit } from '@musterbook/vocabulary/measured'

export type Scale = 'degC' | 'degF' | 'K'

/** A temperature, exactly. */
export interface Temperature {
  readonly degrees: Exact
  readonly scale: Scale
}

const units: Partial<Record<Unit, { scale: 'degC' | 'degF'; parts: number }>> = {
  tenthsDegC: { scale: 'degC', parts: 10 },
  tenthsDegF: { scale: 'degF', parts: 10 },
  hundredthsDegC: { scale: 'degC', parts: 100 },
  hundredthsDegF: { scale: 'degF', parts: 100 },
}

/** A temperature as read, whole. Throws on a value whose unit is not one of temperature. */
export function temperatureOf(measured: Measured): Temperature {
  const unit = units[measured.unit]
  if (!unit) throw new RangeError(`not a temperature: ${measured.unit}`)
  return { degrees: exact(measured.amount, unit.parts), scale: unit.scale }
}

/** In Celsius: one degree of each scale, and what the scale shows at the ice point. */
const scales: Record<Scale, { degree: Exact; atIcePoint: Exact }> = {
  degC: { degree: exact(1), atIcePoint: exact(0) },
  degF: { degree: exact(5, 9), atIcePoint: exact(32) },
  K: { degree: exact(1), atIcePoint: exact(27315, 100) },
}

/** The same temperature on another scale, with nothing rounded. Source: the definition of the scales. */
export function toScale({ degrees, scale }: Temperature, to: Scale): Temperature {
  if (scale === to) return { degrees, scale }
  const aboveIcePoint = minus(degrees, scales[scale].atIcePoint)
  return { degrees: plus(differenceToScale(aboveIcePoint, scale, to), scales[to].atIcePoint), scale: to }
}

/** A difference of temperatures, such as what clothing adds, on another scale: it is scaled by 1.8 and never moved by 32. */
export function differenceToScale(difference: Exact, from: Scale, to: Scale): Exact {
  const { degree: one } = scales[from]
  const { degree: other } = scales[to]
  return from === to ? difference : times(difference, { top: one.top * other.bottom, bottom: one.bottom * other.top })
}
