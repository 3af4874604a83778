import { stationOf, type Day } from '@musterbook/day/day'
import type { DayEntry } from '@musterbook/day/evolve'
import { resultOf, type StationResult } from '@musterbook/day/results'
import { happenedAt } from '@musterbook/vocabulary/envelope'
import type { DayEvent } from '@musterbook/vocabulary/events'
import type { StationId, StudentId } from '@musterbook/vocabulary/ids'
import { events, type Recorded } from './moments.ts'

/** Why a number is what it is: from the percentile back to each tap, and the last check of what it was measured with. */
export interface Explanation {
  result: StationResult
  /** The lines of the working, each with the entries that it rests on. */
  lines: readonly { step: StationResult['working'][number]; entries: readonly Evidence[] }[]
  /** Every entry that touches this student at this station, those that do not count too. */
  all: readonly Evidence[]
  /** The last check of each instrument before it was used. */
  checks: readonly { equipmentId: string; entry: Evidence | null; passed: boolean | null }[]
  rules: { protocolId: string; protocolVersion: number; source: string; table: string | null }
}

export interface Evidence {
  stream: string
  version: number
  type: DayEvent['type']
  happenedAt: number
  bandMs: number
  recordedAt: number
  personId: string | null
  deviceId: string
  event: DayEvent
}

export function explain(day: Day, recorded: Recorded, studentId: StudentId, stationId: StationId): Explanation | null {
  const student = day.students.get(studentId)
  const station = stationOf(day, stationId)
  if (!student || !station) return null
  const result = resultOf(day, student, station)
  const attempts = new Set(
    student.attempts.filter((attempt) => attempt.stationId === stationId).flatMap((attempt) => [attempt.attemptId, attempt.waveId]),
  )
  const all = recorded.flatMap((entry) =>
    events(entry)
      .filter((event) => touches(event, studentId, attempts))
      .map((event) => evidence(entry, event)),
  )
  const known = new Map<string, Evidence[]>()
  for (const one of all) for (const id of idsOf(one)) known.set(id, [...(known.get(id) ?? []), one])
  const weighIns = recorded.flatMap((entry) =>
    events(entry).flatMap((event) =>
      event.type === 'weighed' && event.studentId === studentId ? [{ id: entry.meta.commandId, one: evidence(entry, event) }] : [],
    ),
  )
  for (const { id, one } of weighIns) known.set(id, [one])
  const used = Math.max(0, ...all.map((one) => one.happenedAt))
  return {
    result,
    lines: result.working.map((step) => ({ step, entries: step.sources.flatMap((source) => known.get(source) ?? []) })),
    all,
    checks: instruments(result, student.weighIns.at(-1)?.scaleId).map((equipmentId) => lastCheck(recorded, equipmentId, used)),
    rules: {
      protocolId: station.protocol.protocolId,
      protocolVersion: station.protocol.version,
      source: String(station.protocol['source'] ?? ''),
      table: result.table,
    },
  }
}

function touches(event: DayEvent, studentId: StudentId, attempts: ReadonlySet<string | null>): boolean {
  if ('studentId' in event && event.studentId !== studentId)
    return event.type === 'corrected' && event.change.kind === 'reassign' && event.change.toStudentId === studentId
  if ('attemptId' in event && typeof event.attemptId === 'string') return attempts.has(event.attemptId)
  if ('waveId' in event && typeof event.waveId === 'string') return attempts.has(event.waveId)
  return event.type === 'reviewOpened' && event.about.studentId === studentId && attempts.has(event.about.attemptId)
}

const idsOf = ({ event }: Evidence): string[] => [
  ...('attemptId' in event && event.attemptId ? [event.attemptId] : []),
  ...('observationId' in event && event.observationId ? [event.observationId] : []),
]

const evidence = (entry: DayEntry, event: DayEvent): Evidence => ({
  stream: entry.stream,
  version: entry.version,
  type: event.type,
  happenedAt: happenedAt(entry.meta),
  bandMs: entry.meta.bandMs,
  recordedAt: entry.recordedAt,
  personId: entry.meta.personId,
  deviceId: entry.meta.deviceId,
  event,
})

const instruments = (result: StationResult, scaleId: string | undefined): string[] => [
  ...new Set([...result.equipmentIds, ...(result.unit === 'percentOfBodyMass' && scaleId ? [scaleId] : [])]),
]

function lastCheck(recorded: Recorded, equipmentId: string, before: number): Explanation['checks'][number] {
  const found = recorded.flatMap((entry) =>
    events(entry).flatMap((event) =>
      event.type === 'equipmentChecked' && event.equipmentId === equipmentId && happenedAt(entry.meta) <= before
        ? [{ entry: evidence(entry, event), passed: event.passed }]
        : [],
    ),
  )
  const last = found.at(-1)
  return { equipmentId, entry: last?.entry ?? null, passed: last?.passed ?? null }
}
