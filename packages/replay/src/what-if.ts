import type { Day } from '@musterbook/day/day'
import type { DayEntry } from '@musterbook/day/evolve'
import type { NormTable } from '@musterbook/scoring/norms'
import type { DayEvent, DayEventOf } from '@musterbook/vocabulary/events'
import type { DayId, EquipmentId, ObservationId, StudentId, WaveId } from '@musterbook/vocabulary/ids'
import type { PinnedProtocol } from '@musterbook/vocabulary/rules'
import { differences, type Difference } from './compare.ts'
import { events, fold, type Recorded } from './moments.ts'

/** One thing that is supposed to have been otherwise. */
export type Supposition =
  | { kind: 'leaveOut'; entries: readonly number[] }
  /** The clock of these entries was off by so much. */
  | { kind: 'shift'; entries: readonly number[]; ms: number }
  /** A crossing that nobody tapped, so many ms after the gun. */
  | { kind: 'inferLap'; waveId: WaveId; studentId: StudentId; elapsedMs: number }
  | { kind: 'norms'; table: NormTable }
  | { kind: 'protocol'; stationId: string; protocol: PinnedProtocol }
  /** How the instrument was off must be said: by the same amount always, or in proportion to what it showed. */
  | { kind: 'instrument'; equipmentId: EquipmentId; model: { constant: number } | { proportionalMillionths: number } }

/**
 * A day that never was. It carries its watermark in its type and in its data; the ledger takes neither: an imagined entry has
 * no hash to chain to, and no schema of an event knows `imagined`.
 */
export interface Imagined {
  readonly imagined: true
  readonly watermark: 'WHAT IF: not a record'
  readonly suppositions: readonly Supposition[]
  /** The entries as supposed, for a comparison. */
  readonly supposed: Recorded
  readonly day: Day
  readonly moves: readonly Difference[]
}

export function whatIf(dayId: DayId, recorded: Recorded, suppositions: readonly Supposition[]): Imagined {
  const supposed = suppositions.reduce((entries, supposition) => suppose(entries, supposition), recorded)
  const day = fold(dayId, supposed)
  return { imagined: true, watermark: 'WHAT IF: not a record', suppositions, supposed, day, moves: differences(fold(dayId, recorded), day) }
}

function suppose(recorded: Recorded, supposition: Supposition): Recorded {
  switch (supposition.kind) {
    case 'leaveOut':
      return recorded.filter((entry) => !supposition.entries.includes(entry.version))
    case 'shift':
      return recorded.map((entry) => (supposition.entries.includes(entry.version) ? shifted(entry, supposition.ms) : entry))
    case 'inferLap':
      return [...recorded, lapEntry(recorded, supposition)]
    case 'norms':
      return withRules(recorded, (rules) => ({
        ...rules,
        norms: [...rules.norms.filter((table) => table['test'] !== supposition.table.test), supposition.table as never],
      }))
    case 'protocol':
      return withRules(recorded, (rules) => ({
        ...rules,
        stations: rules.stations.map((station) =>
          station.stationId === supposition.stationId ? { ...station, protocol: supposition.protocol } : station,
        ),
      }))
    case 'instrument':
      return recorded.map((entry) => withEvents(entry, (event) => remeasured(event, supposition)))
  }
}

const withEvents = (entry: DayEntry, change: (event: DayEvent) => DayEvent): DayEntry => ({ ...entry, events: events(entry).map(change) })

const withRules = (recorded: Recorded, change: (rules: DayEventOf<'dayOpened'>['rules']) => DayEventOf<'dayOpened'>['rules']): Recorded =>
  recorded.map((entry) => withEvents(entry, (event) => (event.type === 'dayOpened' ? { ...event, rules: change(event.rules) } : event)))

/** Its taps move with it: what was elapsed since the gun is decided anew from the shifted instant. */
function shifted(entry: DayEntry, ms: number): DayEntry {
  const moved = withEvents(entry, (event) =>
    event.type === 'crossingRecorded' || event.type === 'finishRecorded' ? { ...event, elapsedMs: event.elapsedMs + ms } : event,
  )
  return { ...moved, meta: { ...moved.meta, occurredAt: moved.meta.occurredAt + ms } }
}

function remeasured(event: DayEvent, { equipmentId, model }: Extract<Supposition, { kind: 'instrument' }>): DayEvent {
  const was = (amount: number) =>
    'constant' in model ? amount - model.constant : Math.round((amount * 1_000_000) / (1_000_000 + model.proportionalMillionths))
  if (event.type === 'weighed' && event.scaleId === equipmentId)
    return { ...event, mass: { ...event.mass, amount: was(event.mass.amount) } }
  if (event.type === 'resultRecorded' && event.equipmentIds.includes(equipmentId) && event.value)
    return { ...event, value: { ...event.value, amount: was(event.value.amount) } }
  return event
}

/** As a person at the track would have put it in. Who has one crossing more has run the last one too far: the protocol's own count of crossings is the finish. */
function lapEntry(recorded: Recorded, { waveId, studentId, elapsedMs }: Extract<Supposition, { kind: 'inferLap' }>): DayEntry {
  const last = recorded.at(-1) as DayEntry
  const all = recorded.flatMap(events)
  const taps = all.flatMap((event) =>
    (event.type === 'crossingRecorded' && event.ignored === null) || event.type === 'lapInferred'
      ? event.waveId === waveId && event.studentId === studentId
        ? [event.elapsedMs]
        : []
      : [],
  )
  const crossings = [...taps, elapsedMs].sort((one, other) => one - other)
  const needed = lapsOf(all, waveId)
  const finish = all.findLast((event) => event.type === 'finishRecorded' && event.waveId === waveId && event.studentId === studentId)
  const reviews = all.flatMap((event) =>
    event.type === 'reviewOpened' && event.because === 'lapsMissing' && event.about.studentId === studentId ? [event.reviewId] : [],
  )
  const inferred: DayEvent = {
    type: 'lapInferred',
    observationId: 'what-if' as ObservationId,
    waveId,
    studentId,
    elapsedMs,
    witnessId: null,
  }
  const again: DayEvent[] =
    finish?.type === 'finishRecorded'
      ? [{ ...finish, elapsedMs: crossings[needed - 1] ?? finish.elapsedMs, laps: Math.min(needed, crossings.length), reviewId: null }]
      : []
  return {
    ...last,
    version: last.version + 1,
    meta: { ...last.meta, commandId: 'what-if' },
    events: [inferred, ...again, ...reviews.map((reviewId): DayEvent => ({ type: 'reviewSettled', reviewId, by: 'what-if' }))],
  }
}

function lapsOf(all: readonly DayEvent[], waveId: WaveId): number {
  const stationId = all.flatMap((event) => (event.type === 'waveStarted' && event.waveId === waveId ? [event.stationId] : []))[0]
  const rules = all.flatMap((event) => (event.type === 'dayOpened' ? [event.rules] : []))[0]
  const details = rules?.stations.find((station) => station.stationId === stationId)?.protocol['details'] as
    { track?: { laps?: number } } | undefined
  return details?.track?.laps ?? 0
}
