import type { DayEntry } from '@musterbook/day/evolve'
import { canonical } from '@musterbook/evidence/canonical'
import { happenedAt } from '@musterbook/vocabulary/envelope'
import type { DayEvent, DayEventOf } from '@musterbook/vocabulary/events'
import type { ReviewId, StudentId, WaveId } from '@musterbook/vocabulary/ids'
import { events, type Recorded } from './moments.ts'

/** An entry by its name in the record: what came after the seal counts anew. */
export interface EntryName {
  stream: string
  version: number
}
export const isNamed = (names: readonly EntryName[], { stream, version }: EntryName): boolean =>
  names.some((name) => name.stream === stream && name.version === version)

interface Crossing {
  elapsedMs: number
  line: 'lap' | 'finish'
}

/** Where crossings are supposed to have been otherwise, the laps are counted again: the finish is the crossing that the protocol asks for. */
export function runAgain(recorded: Recorded, supposed: Recorded): Recorded {
  return runnersOf(recorded)
    .filter((runner) => canonical(crossingsOf(recorded, runner)) !== canonical(crossingsOf(supposed, runner)))
    .reduce(finishedAgain, supposed)
}

interface Runner {
  waveId: WaveId
  studentId: StudentId
}

const runnersOf = (recorded: Recorded): Runner[] =>
  recorded
    .flatMap(events)
    .flatMap((event) => (event.type === 'waveStarted' ? event.studentIds.map((studentId) => ({ waveId: event.waveId, studentId })) : []))

/** What counts as a lap, in the order in which it was told. */
function crossingsOf(recorded: Recorded, runner: Runner): Crossing[] {
  const all = recorded.flatMap(events)
  const takenBack = new Set(all.flatMap((event) => (event.type === 'crossingTakenBack' ? [event.observationId] : [])))
  return all.flatMap((event) => {
    const crossing = crossingIn(event, runner)
    return crossing && !('observationId' in event && takenBack.has(event.observationId as never)) ? [crossing] : []
  })
}

function crossingIn(event: DayEvent, { waveId, studentId }: Runner): Crossing | undefined {
  if ((event.type !== 'crossingRecorded' && event.type !== 'lapInferred') || event.waveId !== waveId || event.studentId !== studentId)
    return undefined
  if (event.type === 'lapInferred') return { elapsedMs: event.elapsedMs, line: 'lap' }
  return event.ignored === null ? { elapsedMs: event.elapsedMs, line: event.line } : undefined
}

function finishedAgain(supposed: Recorded, runner: Runner): Recorded {
  const all = supposed.flatMap(events)
  const isOf = (event: DayEvent): event is DayEventOf<'finishRecorded'> =>
    event.type === 'finishRecorded' && event.waveId === runner.waveId && event.studentId === runner.studentId
  const before = all.findLast(isOf)
  const attemptId = before?.attemptId ?? attemptOf(all, runner)
  if (!attemptId) return supposed
  const missing = new Set<string>(
    all.flatMap((event) =>
      event.type === 'reviewOpened' && event.because === 'lapsMissing' && event.about.attemptId === attemptId ? [event.reviewId] : [],
    ),
  )
  const isGone = (event: DayEvent): boolean =>
    isOf(event) ||
    ((event.type === 'reviewOpened' || event.type === 'reviewSettled' || event.type === 'reviewRuled') && missing.has(event.reviewId))
  const cleared = supposed.map((entry) => ({ ...entry, events: events(entry).filter((event) => !isGone(event)) }))
  // Whatever else it waited for, a hold or a stop, it waits for still.
  const waitsFor = before?.reviewId && !missing.has(before.reviewId) ? before.reviewId : null

  const needed = lapsOf(all, runner.waveId)
  const crossings = crossingsOf(supposed, runner)
  const sorted = crossings.map(({ elapsedMs }) => elapsedMs).sort((one, other) => one - other)
  const isWhole = sorted.length >= needed
  const last = isWhole ? needed : crossings.findLastIndex(({ line }) => line === 'finish') + 1
  if (last === 0) return cleared
  const finish = { type: 'finishRecorded' as const, ...runner, attemptId, laps: Math.min(needed, last) }
  const made: DayEvent[] = isWhole
    ? [{ ...finish, elapsedMs: sorted[needed - 1]!, reviewId: waitsFor }]
    : [
        { ...finish, elapsedMs: crossings[last - 1]!.elapsedMs, reviewId: 'what-if' as ReviewId },
        {
          type: 'reviewOpened',
          reviewId: 'what-if' as ReviewId,
          because: 'lapsMissing',
          about: { studentId: runner.studentId, stationId: null, attemptId, waveId: runner.waveId } as never,
        },
      ]
  let counted = 0
  return cleared.map((entry) => {
    const here = events(entry).filter((event) => crossingIn(event, runner)).length
    const isLast = counted < last && counted + here >= last
    counted += here
    return isLast ? { ...entry, events: [...events(entry), ...made] } : entry
  })
}

const attemptOf = (all: readonly DayEvent[], { waveId, studentId }: Runner) =>
  all.findLast(
    (event): event is DayEventOf<'attemptStarted'> =>
      event.type === 'attemptStarted' && event.waveId === waveId && event.studentId === studentId,
  )?.attemptId

function lapsOf(all: readonly DayEvent[], waveId: WaveId): number {
  const stationId = all.flatMap((event) => (event.type === 'waveStarted' && event.waveId === waveId ? [event.stationId] : []))[0]
  const rules = all.flatMap((event) => (event.type === 'dayOpened' ? [event.rules] : []))[0]
  const details = rules?.stations.find((station) => station.stationId === stationId)?.protocol['details'] as
    { track?: { laps?: number } } | undefined
  return details?.track?.laps ?? 0
}

/** Where something supposed stands: behind the last entry of the day that had happened by then, as a screen would have told it. */
export function insertedAt(recorded: Recorded, at: number, made: readonly DayEvent[]): Recorded {
  const isOfTheDay = (entry: DayEntry) => entry.stream.startsWith('day/')
  const sealed = recorded.findIndex((entry) => events(entry).some((event) => event.type === 'daySealed'))
  const open = sealed < 0 ? recorded : recorded.slice(0, sealed)
  const place = open.findLastIndex((entry) => isOfTheDay(entry) && happenedAt(entry.meta) <= at) + 1
  const near = recorded[Math.max(0, place - 1)]!
  const entry = { ...near, meta: { ...near.meta, commandId: 'what-if', occurredAt: at + near.meta.offsetMs }, events: [...made] }
  return [...recorded.slice(0, place), entry, ...recorded.slice(place)]
}
