import { and, assign, initialTransition, not, or, setup, stateIn, transition, type AnyMachineSnapshot, type AnyStateMachine } from 'xstate'
import type { PinnedStation } from '@musterbook/vocabulary/rules'

/**
 * The shape of one student's day: parallel regions for presence, clearance, warm-up, body mass, effort, stop, cool-down
 * and each station. Two machines are made from one description. The deciding one carries the guards that keep the
 * promises S1, S5, S6 and S8; `decide` asks it. The fold's has none: what was recorded is followed, whatever today's
 * guards would say, so that a changed guard never rewrites a past day.
 */
export interface Machines {
  deciding: AnyStateMachine
  fold: AnyStateMachine
}

/** What a machine is told. Station acts carry the station in their name, so that states and events alone decide. */
export type StudentEvent =
  | {
      type: 'checkedIn' | 'absent' | 'withdrew' | 'signedOff' | 'warmUpConfirmed' | 'weighed' | 'stopped' | 'restored' | 'coolDownRecorded'
    }
  | { type: 'clearanceGoverns'; status: 'pending' | 'cleared' | 'limited' | 'notToday' | 'withdrawn'; barred: readonly string[] }
  | { type: `attemptStarted.${string}` | `attemptEnded.${string}` | `attemptReleased.${string}` }

export interface StudentState {
  presence: 'expected' | 'present' | 'absent' | 'withdrawn' | 'complete'
  clearance: 'pending' | 'cleared' | 'limited' | 'notToday' | 'withdrawn'
  warmUp: 'due' | 'done'
  mass: 'missing' | 'weighed'
  /** `free`, or `at <stationId>`. */
  effort: string
  stop: 'none' | 'stopped'
  coolDown: 'notDue' | 'due' | 'done'
  stations: Record<string, 'due' | 'tried'>
}

interface Context {
  /** Stations that the clearance in force does not cover. */
  barred: readonly string[]
}

export type StudentSnapshot = AnyMachineSnapshot

const made = new Map<string, Machines>()

/**
 * Built once from what of a day's pinned stations makes its shape, and kept for every day of that shape: a day that is read again, and the
 * next day at the same site, find what was worked out before.
 */
export function machinesOf(stations: readonly PinnedStation[]): Machines {
  const shape = JSON.stringify(stations.map(({ stationId, protocol: { kind, prerequisites } }) => [stationId, kind, prerequisites]))
  const known = made.get(shape)
  if (known) return known
  const machines = { deciding: build(stations, true), fold: build(stations, false) }
  made.set(shape, machines)
  return machines
}

export const begin = (machines: Machines): StudentSnapshot => {
  const ways = waysOf(machines)
  ways.begin ??= sameState(ways, initialTransition(machines.fold)[0])
  return ways.begin
}

/** Follows one event. The same snapshot comes back when nothing moves: it `fits` all the same, or is an anomaly to show. */
export function follow(machines: Machines, snapshot: StudentSnapshot, event: StudentEvent): StudentSnapshot {
  const ways = waysOf(machines)
  const { to } = turnsFrom(ways, snapshot)
  const name = nameOf(event)
  const known = to.get(name)
  if (known) return known
  const [next] = transition(machines.fold, snapshot, event)
  const reached = next === snapshot ? snapshot : sameState(ways, next)
  to.set(name, reached)
  return reached
}

/** Has the day a place for this event, be it that it was said before? */
export const fits = (snapshot: StudentSnapshot, event: StudentEvent): boolean => snapshot.can(event)

/** May this happen now? Asked of the machine with guards; the caller names the reason. */
export function allows(machines: Machines, snapshot: StudentSnapshot, event: StudentEvent): boolean {
  const { may } = turnsFrom(waysOf(machines), snapshot)
  const name = nameOf(event)
  const known = may.get(name)
  if (known !== undefined) return known
  const allowed = machines.deciding.resolveState({ value: snapshot.value, context: snapshot.context }).can(event)
  may.set(name, allowed)
  return allowed
}

/**
 * Where an event leads from a state, and whether it may, is worked out once and kept: a snapshot follows from its state and its context alone,
 * guards ask for nothing else, and the students of a day go through the same few hundred of them.
 */
interface Ways {
  begin: StudentSnapshot | undefined
  readonly states: Map<string, StudentSnapshot>
  readonly from: WeakMap<StudentSnapshot, Turns>
}

interface Turns {
  readonly to: Map<string, StudentSnapshot>
  readonly may: Map<string, boolean>
}

const walked = new WeakMap<Machines, Ways>()

function waysOf(machines: Machines): Ways {
  const known = walked.get(machines) ?? { begin: undefined, states: new Map(), from: new WeakMap() }
  walked.set(machines, known)
  return known
}

function turnsFrom({ from }: Ways, snapshot: StudentSnapshot): Turns {
  const known = from.get(snapshot) ?? { to: new Map(), may: new Map() }
  from.set(snapshot, known)
  return known
}

function sameState({ states }: Ways, snapshot: StudentSnapshot): StudentSnapshot {
  const name = JSON.stringify([snapshot.value, snapshot.context])
  const known = states.get(name) ?? snapshot
  states.set(name, known)
  return known
}

const nameOf = (event: StudentEvent): string =>
  event.type === 'clearanceGoverns' ? JSON.stringify([event.type, event.status, event.barred]) : event.type

export const stateOf = (snapshot: StudentSnapshot): StudentState => snapshot.value as unknown as StudentState

function build(stations: readonly PinnedStation[], guarded: boolean): AnyStateMachine {
  const at = (stationId: string) => `at ${stationId}`
  const each = <Value>(value: (station: PinnedStation) => Value, named = '') =>
    Object.fromEntries(stations.map((station) => [`${named}${station.stationId}`, value(station)]))
  const starts = Object.fromEntries(
    stations.map((station) => [
      `attemptStarted.${station.stationId}`,
      { target: at(station.stationId), ...(guarded && { guard: mayStart(station) }) },
    ]),
  )
  const runs = stations.filter((station) => station.protocol.kind === 'run')

  return setup({ types: {} as { context: Context; events: StudentEvent } }).createMachine({
    id: 'student',
    type: 'parallel',
    context: { barred: [] },
    states: {
      presence: {
        initial: 'expected',
        states: {
          expected: { on: { checkedIn: 'present', absent: 'absent', withdrew: 'withdrawn' } },
          present: { on: { withdrew: 'withdrawn', signedOff: 'complete' } },
          absent: { on: { checkedIn: 'present', withdrew: 'withdrawn', absent: again('absent') } },
          withdrawn: { on: { withdrew: again('withdrawn') } },
          complete: { on: { withdrew: 'withdrawn' } },
        },
      },
      clearance: {
        initial: 'pending',
        // Any decision may follow any other: the day works out which governs and tells only that.
        on: Object.fromEntries([
          [
            'clearanceGoverns',
            clearanceStatuses.map((status) => ({ target: `.${status}`, guard: says(status), actions: assign({ barred }) })),
          ],
        ]),
        states: Object.fromEntries(clearanceStatuses.map((status) => [status, {}])),
      },
      warmUp: {
        initial: 'due',
        states: { due: { on: { warmUpConfirmed: 'done' } }, done: { on: { warmUpConfirmed: again('done') } } },
      },
      mass: {
        initial: 'missing',
        states: { missing: { on: { weighed: 'weighed' } }, weighed: { on: { weighed: again('weighed') } } },
      },
      effort: {
        initial: 'free',
        states: {
          free: { on: starts },
          ...Object.fromEntries(
            stations.map(({ stationId }) => [
              at(stationId),
              {
                on: {
                  [`attemptEnded.${stationId}`]: 'free',
                  [`attemptReleased.${stationId}`]: 'free',
                  // Out of contact two tablets may each have seen a start: the fold follows the later one, a review is open.
                  ...(!guarded && each(({ stationId: next }) => again(at(next)), 'attemptStarted.')),
                },
              },
            ]),
          ),
        },
      },
      stop: {
        initial: 'none',
        states: {
          none: { on: { stopped: 'stopped' } },
          stopped: { on: { restored: 'none', stopped: again('stopped') } },
        },
      },
      coolDown: {
        initial: 'notDue',
        states: {
          notDue: { on: Object.fromEntries(runs.map(({ stationId }) => [`attemptEnded.${stationId}`, 'due'])) },
          due: {
            on: {
              coolDownRecorded: 'done',
              ...Object.fromEntries(runs.map(({ stationId }) => [`attemptEnded.${stationId}`, again('due')])),
            },
          },
          done: { on: Object.fromEntries(runs.map(({ stationId }) => [`attemptEnded.${stationId}`, 'due'])) },
        },
      },
      stations: {
        type: 'parallel',
        states: each(({ stationId }) => ({
          initial: 'due',
          states: {
            due: { on: { [`attemptEnded.${stationId}`]: 'tried' } },
            tried: { on: { [`attemptEnded.${stationId}`]: again('tried') } },
          },
        })),
      },
    },
  } as never) as unknown as AnyStateMachine
}

/** Said once more it changes nothing, and fits all the same. */
const again = (target: string) => ({ target, reenter: true })

const clearanceStatuses = ['pending', 'cleared', 'limited', 'notToday', 'withdrawn'] as const

const says =
  (status: (typeof clearanceStatuses)[number]) =>
  ({ event }: { event: StudentEvent }) =>
    'status' in event && event.status === status

const barred = ({ event }: { event: StudentEvent }): readonly string[] => ('barred' in event ? event.barred : [])

/** S1, S5, S6 and S8 as the shape of the day knows them. Holds, readings and contact are the day's, not the student's. */
function mayStart({ stationId, protocol }: PinnedStation) {
  const needed = [
    stateIn({ presence: 'present' }),
    stateIn({ stop: 'none' }),
    or([stateIn({ clearance: 'cleared' }), stateIn({ clearance: 'limited' })]),
    not(stateIn({ coolDown: 'due' })),
    ({ context }: { context: Context }) => !context.barred.includes(stationId),
    ...(protocol.prerequisites.includes('warmUp') ? [stateIn({ warmUp: 'done' })] : []),
    ...(protocol.prerequisites.includes('bodyMass') ? [stateIn({ mass: 'weighed' })] : []),
  ]
  return and(needed as never)
}
