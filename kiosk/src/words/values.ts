import { sayValue, type ScoreUnit } from '@musterbook/stations/units'
import { decimalMark, figure, isolated } from './figures.ts'

/** A value as a person reads it aloud, in the figures and with the decimal mark of the screen's language: 33.5 cm, 33,5 cm. */
export const inFigures = (amount: number, unit: ScoreUnit): string =>
  isolated(
    [...sayValue(amount, unit)]
      .map((sign) => (sign === '.' ? decimalMark() : sign === '-' ? '−' : /\d/.test(sign) ? figure(Number(sign)) : sign))
      .join(''),
  )
