import type { Protocol } from '@musterbook/stations/protocol'
import { each, inSmallest, sameDimension, type ReadingUnit, type ScoreUnit } from '@musterbook/stations/units'
import type { Measured } from '@musterbook/vocabulary/measured'

/** Units in which something is read at a station: what else the vocabulary names is read elsewhere. */
const readingUnits: ReadonlySet<string> = new Set([
  'milliseconds',
  'hundredthsOfSecond',
  'tenthsOfSecond',
  'millimetres',
  'halfMillimetres',
  'quarterInches',
  'grams',
  'tenthsKg',
  'hundredthsKg',
  'tenthsLb',
  'count',
] satisfies ReadingUnit[])

/** Small enough that a hundredfold in the smallest unit is still a whole number, exactly. */
const isExact = (amount: number, unit: ReadingUnit): boolean => Number.isSafeInteger(400 * inSmallest(amount, unit))

/** Can this value be of this station at all? What cannot is kept, waits for a person and is never calculated with. */
export function isReadable(value: Pick<Measured, 'amount' | 'unit'>, protocol: Protocol): boolean {
  if (!readingUnits.has(value.unit)) return false
  const unit = value.unit as ReadingUnit
  if (!isExact(value.amount, unit)) return false
  if (protocol.kind === 'skinfold') return unit === 'count'
  if (!sameDimension(unit, protocol.unit)) return false
  const isWhole = sameDimension(unit, protocol.scoreUnit)
    ? inSmallest(value.amount, unit) % each(protocol.scoreUnit as ScoreUnit) === 0
    : true
  return protocol.rounding.rule !== 'none' || isWhole
}

/** A mass of the scale that something can be divided by. */
export const isMass = ({ amount, unit }: Pick<Measured, 'amount' | 'unit'>): boolean =>
  readingUnits.has(unit) && sameDimension(unit as ReadingUnit, 'grams') && amount > 0 && isExact(amount, unit as ReadingUnit)
