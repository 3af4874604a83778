import type { ScoreUnit } from '@musterbook/stations/units'
import { figure } from '../words/figures.ts'
import { inFigures } from '../words/values.ts'

const degrees: Record<string, string> = { tenthsDegC: '°C', tenthsDegF: '°F', hundredthsDegC: '°C', hundredthsDegF: '°F' }

/** A value as it was read, in words of the screen's language. */
export function valueSays({ amount, unit }: { amount: number; unit: string }): string {
  const sign = degrees[unit]
  if (!sign) return inFigures(amount, unit as ScoreUnit)
  const places = unit.startsWith('tenths') ? 1 : 2
  return `${figure(amount / 10 ** places, places)} ${sign}`
}
