import { shape, stationOf, type Day } from '@musterbook/day/day'
import { resultOf } from '@musterbook/day/results'
import { normGroup, percentileOf, type NormTable } from '@musterbook/scoring/norms'
import { progress, publishedLiftReliability, publishedReliability, type Progress, type Reliability } from '@musterbook/scoring/progress'
import { trainingNotes, whereToTrainFirst, type Standing, type TrainingNote } from '@musterbook/scoring/where-to-train'
import { methodOf } from '@musterbook/stations/method'
import type { Protocol } from '@musterbook/stations/protocol'
import type { StudentId } from '@musterbook/vocabulary/ids'

/** Where a student might train first: general words, never a prescription, and only where norms say anything. */
export interface TrainingLine {
  station: string
  from: number
  to: number
  isClearlyLowest: boolean
  note: TrainingNote | null
}

export function trainFirst(day: Day, studentId: string): TrainingLine[] {
  const student = day.students.get(studentId as StudentId)
  const rules = day.opened?.rules
  if (!student || !rules || shape(student).presence === 'withdrawn') return []
  const standings = rules.stations.flatMap((station): Standing[] => {
    const protocol = station.protocol as unknown as Protocol
    const { amount, unit } = resultOf(day, student, station)
    const table = rules.norms.find((one) => one['test'] === protocol.protocolId) as NormTable | undefined
    if (amount === null || !table) return []
    const placing = percentileOf(amount, table, normGroup(table, student.normGroup))
    return [
      {
        stationId: station.stationId,
        amount,
        betterIs: protocol.betterIs,
        placing,
        table,
        standardError: reliabilityOf(protocol, student.normGroup.sex, amount, unit)?.standardError ?? null,
      },
    ]
  })
  return whereToTrainFirst(standings).map(({ stationId, band, isClearlyLowest }) => {
    const protocol = stationOf(day, stationId as never)?.protocol
    return {
      station: protocol?.name ?? stationId,
      from: band.lowest,
      to: band.highest,
      isClearlyLowest,
      note: trainingNotes.find((note) => note.test === protocol?.protocolId) ?? null,
    }
  })
}

/** Measurement error that somebody published for this unit; none where the sources are weak: the site measures its own. */
function reliabilityOf(protocol: Protocol, sex: 'M' | 'W', amount: number, unit: string): Reliability | null {
  if (protocol.protocolId === 'sitAndReach' && unit === 'millimetres') return publishedReliability.sitAndReach[sex]
  if (protocol.kind === 'loaded') return publishedLiftReliability(amount, unit)
  return null
}

export interface ProgressLine {
  station: string
  first: { date: string; says: string; placing: string; group: string | null; order: number }
  later: { date: string; says: string; placing: string; group: string | null; order: number }
  progress: Progress
  unit: string
}

/** First test to later one, in raw units first; what was measured otherwise is not compared. */
export function progressBetween(first: Day, later: Day, studentId: string): ProgressLine[] {
  const one = first.students.get(studentId as StudentId)
  const other = later.students.get(studentId as StudentId)
  if (!one || !other || !first.opened || !later.opened) return []
  const facts = { first: first.opened.facts, later: later.opened.facts }
  return later.opened.rules.stations.flatMap((station): ProgressLine[] => {
    const protocol = station.protocol as unknown as Protocol
    const before = first.opened?.rules.stations.find((known) => known.protocol.protocolId === protocol.protocolId)
    if (!before) return []
    const was = resultOf(first, one, before)
    const is = resultOf(later, other, station)
    if (was.amount === null || is.amount === null) return []
    const places = { first: placeOf(one, before.stationId), later: placeOf(other, station.stationId) }
    const tested = (result: typeof was, methods: Record<string, string>, place: number, timing: string | null) => ({
      amount: result.amount as number,
      unit: result.unit,
      percentileLabel: result.placing ?? 'no norm',
      group: result.group ?? '',
      method: { ...methods, ...(timing && { timing }) },
      circumstances: { placeInTheDay: String(place) },
    })
    const change = progress(
      tested(was, methodOf(before.protocol as unknown as Protocol), places.first, was.timing),
      tested(is, methodOf(protocol), places.later, is.timing),
      protocol.betterIs,
      reliabilityOf(protocol, other.normGroup.sex, is.amount, is.unit),
    )
    return [
      {
        station: protocol.name,
        first: { date: facts.first.date, says: was.says ?? '', placing: was.placing ?? 'no norm', group: was.group, order: places.first },
        later: { date: facts.later.date, says: is.says ?? '', placing: is.placing ?? 'no norm', group: is.group, order: places.later },
        progress: change,
        unit: is.unit,
      },
    ]
  })
}

/** Which of the day's stations it was for this student: order can change a score. */
function placeOf(student: { attempts: readonly { stationId: string; status: string }[] }, stationId: string): number {
  const order = [...new Set(student.attempts.filter((attempt) => attempt.status === 'recorded').map((attempt) => attempt.stationId))]
  return order.indexOf(stationId) + 1
}
