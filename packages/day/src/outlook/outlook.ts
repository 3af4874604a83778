import type { StationView } from '../views/station.ts'
import { chance } from './chance.ts'
import { simulate, type Errand, type Post } from './simulate.ts'

/** What is left of the day, by its own times so far: an estimate, and it says what it rests on. */
export interface Outlook {
  /** Half of the plays end before this; nine of ten before that. */
  endsAt: number
  latestAt: number
  stations: StationOutlook[]
  /** The station for which the day waits; null where nothing is left. */
  bottleneck: string | null
  left: number
}
export interface StationOutlook {
  stationId: string
  name: string
  left: number
  places: number
  endsAt: number | null
  /** Middle time for one student (a run: one wave), and of how many it was measured; 0: assumed. */
  takesMs: number
  measured: number
}

/** Between two students of one place, at most; what is longer is nobody's service time. */
const turnMs = 2 * 60_000
/** Until the day has shown its own: common practice, an assumption that is said as one. A run is a wave. */
const assumedMs = {
  skinfold: 4 * 60_000,
  loaded: 7 * 60_000,
  timed: 3 * 60_000,
  measured: 3 * 60_000,
  counted: 4 * 60_000,
  run: 16 * 60_000,
}
const waveOf = 12
const plays = 41

/**
 * @param clearances as the board has them: who waits for a clearance is still expected, who is not cleared is not
 * @param places how many are served beside each other, by station: what a supervisor compares before doing it
 */
export function outlook(
  views: readonly StationView[],
  clearances: ReadonlyMap<string, string>,
  places: ReadonlyMap<string, number>,
  now: number,
): Outlook {
  const posts = views.map((view) => postOf(view, places.get(view.stationId) ?? 1))
  const errands = errandsOf(views, clearances, now)
  const times = new Map(views.map((view) => [view.stationId, timesAt(view)]))
  const courses = Array.from({ length: plays }, (_, seed) =>
    simulate(
      posts,
      errands,
      (id, random) =>
        oneOf(
          times.get(id)!,
          views.find(({ stationId }) => stationId === id)!,
          random,
        ),
      chance(seed),
    ),
  )
  const ends = courses.map(({ endsAt }) => Math.max(now, endsAt)).sort(ascending)
  const stations = views.map((view): StationOutlook => {
    const samples = times.get(view.stationId)!
    const left = errands.filter(({ stationIds }) => stationIds.includes(view.stationId)).length
    const done = courses.map(({ stations }) => stations.get(view.stationId)!.endsAt).sort(ascending)
    return {
      stationId: view.stationId,
      name: view.protocol.name,
      left,
      places: places.get(view.stationId) ?? 1,
      endsAt: left === 0 ? null : middle(done),
      takesMs: samples.length > 0 ? middle(samples) : assumedMs[view.protocol.kind],
      measured: samples.length,
    }
  })
  const slowest = stations.filter(({ endsAt }) => endsAt !== null).sort((one, other) => wayOf(other, views) - wayOf(one, views))[0]
  return {
    endsAt: middle(ends),
    latestAt: ends[Math.floor(0.9 * (ends.length - 1))]!,
    stations,
    bottleneck: slowest?.stationId ?? null,
    left: errands.length,
  }
}

/** Who is assigned serves there. A station that names nobody, and a place beyond its people, has somebody of its own. */
function postOf({ stationId, protocol, staff }: StationView, places: number): Post {
  const named = staff.map(({ personId }) => personId)
  const others = Array.from({ length: Math.max(0, places - named.length) }, (_, at) => `${stationId}.${at + 1}`)
  return { stationId, places, atOnce: protocol.kind === 'run' ? waveOf : 1, crew: [...named, ...others] }
}

/** The work that still stands before a station, by the places that share it. */
function wayOf({ stationId, left, takesMs, places }: StationOutlook, views: readonly StationView[]): number {
  const isRun = views.find((view) => view.stationId === stationId)?.protocol.kind === 'run'
  return ((isRun ? Math.ceil(left / waveOf) : left) * takesMs) / Math.max(1, places)
}

/** Everybody here with what they still have before them. */
function errandsOf(views: readonly StationView[], clearances: ReadonlyMap<string, string>, now: number): Errand[] {
  const needs = new Map<string, string[]>()
  for (const view of views)
    for (const student of view.students)
      if (student.place !== 'done' && student.result.amount === null && mayCome(student, clearances))
        needs.set(student.studentId, [...(needs.get(student.studentId) ?? []), view.stationId])
  return [...needs].map(([studentId, stationIds]) => ({ studentId, freeAt: now, stationIds }))
}

const mayCome = ({ studentId, gates }: StationView['students'][number], clearances: ReadonlyMap<string, string>): boolean =>
  !gates.some(
    ({ gate, state }) => state === 'notMet' && (gate === 'stop' || (gate === 'clearance' && clearances.get(studentId) !== 'pending')),
  )

/** How long each student so far held one place: from each start to the next one there, at most a turn after its own end. */
function timesAt(view: StationView): number[] {
  if (view.protocol.kind === 'run')
    return view.waves
      .flatMap(({ open, runners }) => {
        const finishes = runners.flatMap(({ finishMs }) => finishMs ?? [])
        return open || finishes.length === 0 ? [] : [Math.max(...finishes) + turnMs]
      })
      .sort(ascending)
  const tries = view.students
    .flatMap(({ studentId, attempts }) =>
      attempts.flatMap(({ startedAt, observations }) => {
        const endedAt = observations.at(-1)?.at
        return startedAt === null || endedAt === undefined ? [] : [{ studentId, startedAt, endedAt }]
      }),
    )
    .sort((one, other) => one.startedAt - other.startedAt)
  const held = new Map<string, number>()
  for (const [i, { studentId, startedAt, endedAt }] of tries.entries()) {
    const until = Math.min(tries[i + 1]?.startedAt ?? Infinity, endedAt + turnMs)
    held.set(studentId, (held.get(studentId) ?? 0) + Math.max(0, until - startedAt))
  }
  const finished = new Set(
    view.students.flatMap(({ studentId, place, result }) => (place === 'done' || result.amount !== null ? studentId : [])),
  )
  return [...held].flatMap(([studentId, ms]) => (finished.has(studentId) ? ms : [])).sort(ascending)
}

const oneOf = (samples: readonly number[], { protocol }: StationView, random: () => number): number =>
  samples.length > 0 ? samples[Math.floor(random() * samples.length)]! : assumedMs[protocol.kind]

const ascending = (one: number, other: number): number => one - other
const middle = (sorted: readonly number[]): number => sorted[Math.floor((sorted.length - 1) / 2)] ?? 0
