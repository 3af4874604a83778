import type { Day } from '@musterbook/day/day'
import type { DayEntry } from '@musterbook/day/evolve'
import type { NormTable } from '@musterbook/scoring/norms'
import { happenedAt } from '@musterbook/vocabulary/envelope'
import type { DayEvent, DayEventOf } from '@musterbook/vocabulary/events'
import type { AttemptId, DayId, EquipmentId, ObservationId, StationId, StudentId, WaveId } from '@musterbook/vocabulary/ids'
import type { Measured } from '@musterbook/vocabulary/measured'
import type { PinnedProtocol } from '@musterbook/vocabulary/rules'
import { differences, type Difference } from './compare.ts'
import { events, fold, type Recorded } from './moments.ts'
import { insertedAt, isNamed, runAgain, type EntryName } from './run-again.ts'

/** One thing that is supposed to have been otherwise. */
export type Supposition =
  | { kind: 'leaveOut'; entries: readonly EntryName[] }
  /** The clock of these entries was off by so much. */
  | { kind: 'shift'; entries: readonly EntryName[]; ms: number }
  /** A crossing that nobody tapped, so many ms after the gun. */
  | { kind: 'inferLap'; waveId: WaveId; studentId: StudentId; elapsedMs: number }
  /** An official try that nobody put in. */
  | { kind: 'insertTry'; studentId: StudentId; stationId: StationId; value: Measured }
  | { kind: 'norms'; table: NormTable }
  /** Another version of a protocol, wherever it was pinned. */
  | { kind: 'protocol'; protocol: PinnedProtocol }
  /** How the instrument was off must be said: by the same amount always, or in proportion to what it showed. */
  | { kind: 'instrument'; equipmentId: EquipmentId; model: { constant: number } | { proportionalMillionths: number } }

/** One entry of a day that never was. It has neither the events nor the authorship that a ledger asks of an entry. */
export interface Supposed {
  readonly imagined: true
  readonly would: DayEntry
}

/**
 * A day that never was. It carries its watermark in its type and in its data, and the ledger takes no part of it: nothing here is a
 * draft of an entry, and no schema of an event or an act knows `imagined`.
 */
export interface Imagined {
  readonly imagined: true
  readonly watermark: 'WHAT IF: not a record'
  readonly suppositions: readonly Supposition[]
  /** The entries as supposed, for a comparison. */
  readonly supposed: readonly Supposed[]
  readonly day: Day
  readonly moves: readonly Difference[]
}

export function whatIf(dayId: DayId, recorded: Recorded, suppositions: readonly Supposition[]): Imagined {
  const would = suppositions.reduce((entries, supposition) => runAgain(entries, suppose(entries, supposition)), recorded)
  const day = fold(dayId, would)
  return {
    imagined: true,
    watermark: 'WHAT IF: not a record',
    suppositions,
    supposed: would.map((entry) => ({ imagined: true, would: entry })),
    day,
    moves: differences(fold(dayId, recorded), day),
  }
}

function suppose(recorded: Recorded, supposition: Supposition): Recorded {
  switch (supposition.kind) {
    case 'leaveOut':
      return recorded.filter((entry) => !isNamed(supposition.entries, entry))
    case 'shift':
      return shifted(recorded, supposition)
    case 'inferLap':
      return withLap(recorded, supposition)
    case 'insertTry':
      return withTry(recorded, supposition)
    case 'norms':
      return withRules(recorded, (rules) => ({
        ...rules,
        norms: [...rules.norms.filter((table) => table['test'] !== supposition.table.test), supposition.table as never],
      }))
    case 'protocol':
      return withRules(recorded, (rules) => ({
        ...rules,
        stations: rules.stations.map((station) =>
          station.protocol.protocolId === supposition.protocol.protocolId ? { ...station, protocol: supposition.protocol } : station,
        ),
      }))
    case 'instrument':
      return recorded.map((entry) => withEvents(entry, (event) => remeasured(event, supposition)))
  }
}

const withEvents = (entry: DayEntry, change: (event: DayEvent) => DayEvent): DayEntry => ({ ...entry, events: events(entry).map(change) })

const withRules = (recorded: Recorded, change: (rules: DayEventOf<'dayOpened'>['rules']) => DayEventOf<'dayOpened'>['rules']): Recorded =>
  recorded.map((entry) => withEvents(entry, (event) => (event.type === 'dayOpened' ? { ...event, rules: change(event.rules) } : event)))

/** Its taps move with it; a gun that went later makes every time after it shorter. */
function shifted(recorded: Recorded, { entries, ms }: Extract<Supposition, { kind: 'shift' }>): Recorded {
  const guns = new Set(
    recorded
      .filter((entry) => isNamed(entries, entry))
      .flatMap(events)
      .flatMap((event) => (event.type === 'waveStarted' ? [event.waveId] : [])),
  )
  return recorded.map((entry) => {
    const own = isNamed(entries, entry) ? ms : 0
    const moved = withEvents(entry, (event) =>
      event.type === 'crossingRecorded' || event.type === 'finishRecorded' || event.type === 'lapInferred'
        ? { ...event, elapsedMs: event.elapsedMs + own - (guns.has(event.waveId) ? ms : 0) }
        : event,
    )
    return own === 0 ? moved : { ...moved, meta: { ...moved.meta, occurredAt: moved.meta.occurredAt + own } }
  })
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

/** As a person at the track would have put it in. */
function withLap(recorded: Recorded, { waveId, studentId, elapsedMs }: Extract<Supposition, { kind: 'inferLap' }>): Recorded {
  const gun = recorded.find((entry) => events(entry).some((event) => event.type === 'waveStarted' && event.waveId === waveId))
  if (!gun) return recorded
  const observationId = 'what-if' as ObservationId
  return insertedAt(recorded, happenedAt(gun.meta) + elapsedMs, [
    { type: 'lapInferred', observationId, waveId, studentId, elapsedMs, witnessId: null },
  ])
}

/** As the station would have put it in, before anybody signed the student off. */
function withTry(recorded: Recorded, { studentId, stationId, value }: Extract<Supposition, { kind: 'insertTry' }>): Recorded {
  const isOwn = (event: DayEvent) => 'studentId' in event && event.studentId === studentId
  const all = recorded.flatMap(events)
  const tries = all.filter(
    (event) => event.type === 'attemptStarted' && isOwn(event) && event.stationId === stationId && event.official,
  ).length
  const attemptId = `what-if-${all.filter((event) => event.type === 'attemptStarted').length}` as AttemptId
  const closes = recorded.find((entry) =>
    events(entry).some(
      (event) => event.type === 'daySealed' || ((event.type === 'coolDownConfirmed' || event.type === 'studentSignedOff') && isOwn(event)),
    ),
  )
  const at = closes ? happenedAt(closes.meta) - 1 : Math.max(...recorded.map(({ meta }) => happenedAt(meta)))
  const shared = { attemptId, studentId, stationId, official: true, equipmentIds: [] }
  return insertedAt(recorded, at, [
    {
      type: 'attemptStarted',
      ...shared,
      load: kindOf(all, stationId) === 'loaded' ? value : null,
      observerId: null,
      earlyBecause: null,
      number: tries + 1,
      waveId: null,
      readingId: null,
      reviewId: null,
    },
    {
      type: 'resultRecorded',
      ...shared,
      observationId: `${attemptId}.seen` as ObservationId,
      outcome: 'good',
      value,
      folds: [],
      fault: null,
      keptUnusual: false,
      photoDigest: null,
      fromPaper: null,
      as: 'result',
      derived: null,
      reviewId: null,
    },
  ])
}

const kindOf = (all: readonly DayEvent[], stationId: StationId) =>
  all.flatMap((event) => (event.type === 'dayOpened' ? event.rules.stations : [])).find((station) => station.stationId === stationId)
    ?.protocol.kind
