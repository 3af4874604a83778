import type { Unit } from '@musterbook/vocabulary/measured'

/** Units in which a value is read at a station. */
export type ReadingUnit = Extract<
  Unit,
  | 'milliseconds'
  | 'hundredthsOfSecond'
  | 'tenthsOfSecond'
  | 'millimetres'
  | 'halfMillimetres'
  | 'quarterInches'
  | 'grams'
  | 'tenthsKg'
  | 'hundredthsKg'
  | 'tenthsLb'
  | 'count'
>

/** Units in which a score stands: a reading's own, or one that only a rule can give. */
export type ScoreUnit = ReadingUnit | 'wholeSeconds' | 'wholeInches' | 'quarterMillimetres' | 'percentOfBodyMass' | 'tenthsOfPercentFat'

type Dimension = 'time' | 'length' | 'mass' | 'count' | 'percentOfBodyMass' | 'percentFat'

/** How many of the smallest whole unit of its dimension one of each is (ms, µm, µg): all exact, the inch and the pound by definition. */
const units: Record<ScoreUnit, { dimension: Dimension; each: number; per: number; sign: string }> = {
  milliseconds: { dimension: 'time', each: 1, per: 1000, sign: 's' },
  hundredthsOfSecond: { dimension: 'time', each: 10, per: 100, sign: 's' },
  tenthsOfSecond: { dimension: 'time', each: 100, per: 10, sign: 's' },
  wholeSeconds: { dimension: 'time', each: 1000, per: 1, sign: 's' },
  millimetres: { dimension: 'length', each: 1000, per: 10, sign: 'cm' },
  halfMillimetres: { dimension: 'length', each: 500, per: 2, sign: 'mm' },
  quarterMillimetres: { dimension: 'length', each: 250, per: 4, sign: 'mm' },
  quarterInches: { dimension: 'length', each: 6350, per: 4, sign: 'in' },
  wholeInches: { dimension: 'length', each: 25_400, per: 1, sign: 'in' },
  grams: { dimension: 'mass', each: 1_000_000, per: 1000, sign: 'kg' },
  tenthsKg: { dimension: 'mass', each: 100_000_000, per: 10, sign: 'kg' },
  hundredthsKg: { dimension: 'mass', each: 10_000_000, per: 100, sign: 'kg' },
  tenthsLb: { dimension: 'mass', each: 45_359_237, per: 10, sign: 'lb' },
  count: { dimension: 'count', each: 1, per: 1, sign: '' },
  percentOfBodyMass: { dimension: 'percentOfBodyMass', each: 1, per: 1, sign: '%' },
  tenthsOfPercentFat: { dimension: 'percentFat', each: 1, per: 10, sign: '%' },
}

export const scoreUnits = Object.keys(units) as ScoreUnit[]

/** A whole amount in ms, µm, µg or pieces: what two units of one dimension can be compared in, exactly. */
export const inSmallest = (amount: number, unit: ScoreUnit): number => amount * units[unit].each

/** How many ms, µm, µg or pieces one of this unit is. */
export const each = (unit: ScoreUnit): number => units[unit].each

export const sameDimension = (one: ScoreUnit, other: ScoreUnit): boolean => units[one].dimension === units[other].dimension

/** How many of it make the unit that people say, and the sign of that: of 335 mm ten each make a cm. */
export const partsOf = (unit: ScoreUnit): { per: number; sign: string } => ({ per: units[unit].per, sign: units[unit].sign })

/** The value as a person would read it aloud: 18.61 s, 13:05.4, 33.5 cm, 45.0 kg, 72 %. Language-free: screens put in their own comma. */
export function sayValue(amount: number, unit: ScoreUnit): string {
  const { per, sign } = units[unit]
  if (sign === 's' && Math.abs(amount) >= 100 * per) return sayTime(amount, per)
  const value = (amount / per).toFixed(decimalsOf(per))
  return sign === '' ? value : `${value} ${sign}`
}

function sayTime(amount: number, per: number): string {
  const minutes = Math.floor(amount / (60 * per))
  const seconds = (amount - minutes * 60 * per) / per
  return `${minutes}:${seconds.toFixed(decimalsOf(per)).padStart(per === 1 ? 2 : 3 + decimalsOf(per), '0')}`
}

const decimalsOf = (per: number): number => (per === 1 ? 0 : per === 2 || per === 10 ? 1 : per === 4 || per === 100 ? 2 : 3)
