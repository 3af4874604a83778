import { isOutdoors, shape, stationOf, type Day, type Student } from '@musterbook/day/day'
import { resultOf, type StationResult } from '@musterbook/day/results'
import { normGroup, percentileOf, type NormTable } from '@musterbook/scoring/norms'
import { progress, publishedLiftReliability, publishedReliability, type Progress, type Reliability } from '@musterbook/scoring/progress'
import { trainingNotes, whereToTrainFirst, type Standing, type TrainingNote } from '@musterbook/scoring/where-to-train'
import { methodOf } from '@musterbook/stations/method'
import type { Protocol } from '@musterbook/stations/protocol'
import { happenedAt } from '@musterbook/vocabulary/envelope'
import type { StudentId } from '@musterbook/vocabulary/ids'
import type { RecordsPolicy } from '@musterbook/vocabulary/records'
import type { PinnedStation } from '@musterbook/vocabulary/rules'

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
  first: TestedThen
  later: TestedThen
  progress: Progress
  unit: string
}
interface TestedThen {
  date: string
  says: string
  placing: string
  group: string | null
  order: number
  /** How it was timed; null where nothing was. */
  timing: string | null
  /** WBGT of the newest reading when the counting try began, as it was read; null indoors, or where none was taken. */
  heat: string | null
}

/** The site’s own errors go before published ones. */
type OwnErrors = RecordsPolicy['measurementErrors']

/** First test to later one, in raw units first; what was measured otherwise is not compared. */
export function progressBetween(first: Day, later: Day, studentId: string, own: OwnErrors = []): ProgressLine[] {
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
    const heat = { first: heatOf(first, one, before), later: heatOf(later, other, station) }
    const rater = { first: raterOf(one, before), later: raterOf(other, station) }
    const tested = (
      result: typeof was,
      methods: Record<string, string>,
      place: number,
      timing: string | null,
      heat: string | null,
      by: string,
    ) => ({
      amount: result.amount as number,
      unit: result.unit,
      percentileLabel: result.placing ?? 'no norm',
      group: result.group ?? '',
      method: { ...methods, ...(timing && { timing }) },
      circumstances: { placeInTheDay: String(place), heat: heat ?? 'none', measuredBy: by },
    })
    const change = progress(
      tested(was, methodOf(before.protocol as unknown as Protocol), places.first, was.timing, heat.first, rater.first),
      tested(is, methodOf(protocol), places.later, is.timing, heat.later, rater.later),
      protocol.betterIs,
      own.find((error) => error.protocolId === protocol.protocolId && error.unit === is.unit) ??
        reliabilityOf(protocol, other.normGroup.sex, is.amount, is.unit),
    )
    return [
      {
        station: protocol.name,
        first: then(facts.first.date, was, places.first, heat.first),
        later: then(facts.later.date, is, places.later, heat.later),
        progress: change,
        unit: is.unit,
      },
    ]
  })
}

const then = (date: string, result: StationResult, order: number, heat: string | null): TestedThen => ({
  date,
  says: result.says ?? '',
  placing: result.placing ?? 'no norm',
  group: result.group,
  order,
  timing: result.timing,
  heat,
})

/** What the newest reading said when the last official try there began; outdoors alone. */
function heatOf(day: Day, student: Student, station: PinnedStation): string | null {
  if (!isOutdoors(day, station)) return null
  const attempt = student.attempts.findLast((one) => one.stationId === station.stationId && one.official && one.started)
  const startedAt = attempt?.started ? happenedAt(attempt.started) : null
  const reading = startedAt === null ? undefined : day.readings.filter((one) => one.readAt <= startedAt && one.wbgtTenths !== null).at(-1)
  return reading ? `${((reading.wbgtTenths ?? 0) / 10).toFixed(1)} ${reading.unit === 'degC' ? '°C' : '°F'} WBGT` : null
}

/** Whose hand and eye the value came from: who read the tries that counted. A crossing and a lift are seen by many, and say nothing of one. */
function raterOf({ attempts }: Student, { stationId, protocol }: PinnedStation): string {
  if (protocol.kind === 'run' || protocol.kind === 'loaded') return ''
  const read = attempts.filter((one) => one.stationId === stationId && one.official && one.status === 'recorded')
  return [...new Set(read.flatMap(({ observations }) => observations.map(({ told }) => told.personId ?? '')))].sort().join(' ')
}

/** Which of the day's stations it was for this student: order can change a score. */
function placeOf(student: { attempts: readonly { stationId: string; status: string }[] }, stationId: string): number {
  const order = [...new Set(student.attempts.filter((attempt) => attempt.status === 'recorded').map((attempt) => attempt.stationId))]
  return order.indexOf(stationId) + 1
}
