import { plausibility, type Question } from '@musterbook/stations/plausibility'
import type { Protocol } from '@musterbook/stations/protocol'
import { inSmallest, partsOf, type ReadingUnit } from '@musterbook/stations/units'
import type { StationStudent } from '@musterbook/day/views/station'
import { inFigures } from '../words/values.ts'
import { words } from '../words/words.ts'

/** What is asked before a value is kept, in one sentence or two; nothing where it is usual. */
export function askAbout(
  amount: number,
  protocol: Pick<Protocol, 'plausible' | 'askJump' | 'resolution'> & { unit: ReadingUnit },
  history: readonly number[],
): string | undefined {
  const asked = plausibility(amount, protocol, history)
  if (asked.length === 0) return undefined
  return asked.map((question) => inWords(question, amount, protocol.unit)).join(' ')
}

function inWords(question: Question, amount: number, unit: ReadingUnit): string {
  const { asks } = words.station
  const value = inFigures(amount, unit)
  if (question.kind === 'outsideUsualRange') return asks.outside(value)
  if (question.kind === 'jumpFromHistory') return asks.jump(value, inFigures(question.by, unit), inFigures(question.nearest, unit))
  if (question.kind === 'digitsSwapped') return asks.swapped(inFigures(question.maybe, unit))
  return asks.between(value, inFigures(question.resolution, unit))
}

/** The other of kilograms and pounds, as the plates of some other room have it. */
export function otherUnit(amount: number, unit: ReadingUnit): string {
  const { sign } = partsOf(unit)
  const other: ReadingUnit = sign === 'kg' ? 'tenthsLb' : 'tenthsKg'
  const value = inFigures(amount, unit)
  // What the plates say, taken in the other unit, is so much in ours.
  const tenths = Math.round((amount * 10) / partsOf(unit).per)
  const inOurs = Math.round(inSmallest(tenths, other) / inSmallest(1, unit))
  const read = inFigures(tenths, other)
  return sign === 'kg'
    ? words.station.asks.pounds(read, inFigures(inOurs, unit))
    : words.station.asks.kilograms(read || value, inFigures(inOurs, unit))
}

/** The student's own values here, in the protocol's unit: what a jump is measured from. */
export const historyOf = (student: StationStudent, unit: ReadingUnit): number[] =>
  student.attempts.flatMap((attempt) =>
    attempt.status === 'recorded'
      ? attempt.observations.flatMap(({ value, outcome }) => (value && outcome === 'good' && value.unit === unit ? [value.amount] : []))
      : [],
  )
