import { partsOf, type ReadingUnit } from '@musterbook/stations/units'

/** A value as somebody types it, in the protocol's unit: '16.9' s, '12:09.5', '-3,5' cm. undefined when it is none, or finer than the unit. */
export function typedAmount(typed: string, unit: ReadingUnit): number | undefined {
  const { per, sign } = partsOf(unit)
  const found = /^([-−])?(?:(\d{1,3}):)?(\d{1,6})(?:[.,](\d{1,3}))?$/.exec(typed.trim())
  if (!found || (found[2] !== undefined && sign !== 's')) return undefined
  const thousandths = (Number(found[2] ?? 0) * 60 + Number(found[3])) * 1000 + Number((found[4] ?? '').padEnd(3, '0'))
  const amount = (thousandths * per) / 1000
  return Number.isInteger(amount) ? (found[1] && amount !== 0 ? -amount : amount) : undefined
}

export const signOf = (unit: ReadingUnit): string => partsOf(unit).sign
