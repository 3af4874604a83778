import { expect, test } from 'vitest'
import { getAdjacencyMap } from 'xstate/graph'
import type { AnyMachineSnapshot, AnyStateMachine, StateNode } from 'xstate'
import type { PinnedStation } from '@musterbook/vocabulary/rules'
import { begin, fits, follow, machinesOf, stateOf, type StudentEvent, type StudentState } from './machine.ts'

/* A small day that has one station of each sort that the guards tell apart. Invented. */
const station = (stationId: string, kind: string, prerequisites: string[]) =>
  ({ stationId, zoneId: 'somewhere', equipmentIds: [], protocol: { kind, prerequisites } }) as unknown as PinnedStation
const stations = [station('folds', 'skinfold', []), station('bench', 'loaded', ['warmUp', 'bodyMass']), station('run', 'run', ['warmUp'])]
const machines = machinesOf(stations)

const governs = (status: 'pending' | 'cleared' | 'limited' | 'notToday' | 'withdrawn', barred: string[] = []): StudentEvent => ({
  type: 'clearanceGoverns',
  status,
  barred,
})
const plain = [
  'checkedIn',
  'absent',
  'withdrew',
  'signedOff',
  'warmUpConfirmed',
  'weighed',
  'stopped',
  'restored',
  'coolDownRecorded',
] as const
const attempts = ['attemptStarted', 'attemptEnded', 'attemptReleased'] as const
const events: StudentEvent[] = [
  ...plain.map((type): StudentEvent => ({ type })),
  ...(['pending', 'cleared', 'notToday', 'withdrawn'] as const).map((status) => governs(status)),
  governs('limited', ['bench']),
  ...attempts.flatMap((act) => stations.map(({ stationId }): StudentEvent => ({ type: `${act}.${stationId}` }))),
]

/** Value and context, without which stations were tried already: no guard reads that, as the last test shows. */
const serializeState = (snapshot: AnyMachineSnapshot): string => {
  const { stations: _, ...rest } = stateOf(snapshot)
  return JSON.stringify([rest, snapshot.context])
}

interface Edge {
  from: AnyMachineSnapshot
  event: StudentEvent
  to: AnyMachineSnapshot
  before: StudentState
  after: StudentState
}

function edgesOf(machine: AnyStateMachine): Edge[] {
  const map = getAdjacencyMap(machine, { events: events as never, serializeState: serializeState as never, limit: Infinity })
  return Object.values(map).flatMap(({ state, transitions }) =>
    Object.values(transitions as Record<string, { event: unknown; state: unknown }>).map(({ event, state: next }) => {
      const [from, to] = [state, next] as unknown as AnyMachineSnapshot[]
      return { from: from!, event: event as StudentEvent, to: to!, before: stateOf(from!), after: stateOf(to!) }
    }),
  )
}

const edges = edgesOf(machines.deciding)
const starting = edges.filter(({ event, from, to }) => event.type.startsWith('attemptStarted.') && from !== to)
const at = ({ type }: StudentEvent): string => type.split('.')[1] ?? ''

test('the graph is whole: every state of every part is reached, and every station can be started', () => {
  const states = new Set(edges.map(({ from }) => serializeState(from)))
  expect(states.size).toBeGreaterThan(1000)
  const seen = (part: keyof StudentState) => new Set(edges.map(({ before }) => String(before[part])))
  expect([...seen('presence')].sort()).toEqual(['absent', 'complete', 'expected', 'present', 'withdrawn'])
  expect([...seen('clearance')].sort()).toEqual(['cleared', 'limited', 'notToday', 'pending', 'withdrawn'])
  expect([...seen('effort')].sort()).toEqual(['at bench', 'at folds', 'at run', 'free'])
  expect([...seen('coolDown')].sort()).toEqual(['done', 'due', 'notDue'])
  expect(new Set(starting.map(({ event }) => at(event)))).toEqual(new Set(['folds', 'bench', 'run']))
})

test('S1: on no edge does a station start before a clearance that covers it and what its protocol names', () => {
  for (const { event, before, from } of starting) {
    expect(before.presence).toBe('present')
    expect(['cleared', 'limited']).toContain(before.clearance)
    expect((from.context as { barred: string[] }).barred).not.toContain(at(event))
    const { prerequisites } = stations.find(({ stationId }) => stationId === at(event))!.protocol
    if (prerequisites.includes('warmUp')) expect(before.warmUp).toBe('done')
    if (prerequisites.includes('bodyMass')) expect(before.mass).toBe('weighed')
  }
  // Skinfolds need the clearance alone.
  expect(starting.some(({ event, before }) => at(event) === 'folds' && before.warmUp === 'due' && before.mass === 'missing')).toBe(true)
})

test('S5: a stop is taken in every state, only a restoration ends it, and nothing starts under it', () => {
  for (const { event, before, after } of edges) {
    if (event.type === 'stopped') expect(after.stop).toBe('stopped')
    if (before.stop === 'stopped' && after.stop === 'none') expect(event.type).toBe('restored')
  }
  for (const { before } of starting) expect(before.stop).toBe('none')
})

test('S6: however a run ends the cool-down is due, only its record ends that, and nothing starts before', () => {
  for (const { event, before, after } of edges) {
    if (before.effort === 'at run' && event.type === 'attemptEnded.run') expect(after.coolDown).toBe('due')
    if (before.coolDown === 'due' && after.coolDown !== 'due') expect(event.type).toBe('coolDownRecorded')
  }
  for (const { before } of starting) expect(before.coolDown).not.toBe('due')
})

test('S8: one student is in one attempt at a time, and leaves it by its own end or release alone', () => {
  for (const { before, after, event } of starting) {
    expect(before.effort).toBe('free')
    expect(after.effort).toBe(`at ${at(event)}`)
  }
  for (const { before, after, event } of edges) {
    if (before.effort === after.effort || before.effort === 'free') continue
    expect([`attemptEnded.${before.effort.slice(3)}`, `attemptReleased.${before.effort.slice(3)}`]).toContain(event.type)
    expect(after.effort).toBe('free')
  }
})

test('the fold follows every step that the deciding machine takes, to the same state', () => {
  for (const { from, event, to } of edges.filter((edge) => edge.from !== edge.to)) {
    const followed = follow(machines, machines.fold.resolveState({ value: from.value, context: from.context }), event)
    expect(followed.value).toEqual(to.value)
    expect(followed.context).toEqual(to.context)
  }
})

test('the fold refuses no fact that may happen whatever the day says: a start, an end, a stop, a withdrawal, a weighing, a clearance', () => {
  const facts = /^(attemptStarted|attemptEnded)\.|^(stopped|withdrew|weighed|warmUpConfirmed|clearanceGoverns)$/
  const swallowed = edgesOf(machines.fold).filter(({ from, event }) => facts.test(event.type) && !fits(from, event))
  expect(swallowed.map(({ event, before }) => [event.type, before.presence, before.effort, before.stop])).toEqual([])
})

test('which stations were tried already decides nothing', () => {
  const guards = starting.filter(({ before }) => before.coolDown === 'notDue').slice(0, 200)
  for (const { from, event } of guards) {
    const value = from.value as object
    const tried = { ...value, stations: Object.fromEntries(stations.map(({ stationId }) => [stationId, 'tried'])) }
    expect(machines.deciding.resolveState({ value: tried, context: from.context }).can(event)).toBe(true)
  }
})

test('no timer, no invocation, no wildcard, no eventless step, and nothing leads out of a final state, in any node', () => {
  const nodes = (node: StateNode): StateNode[] => [node, ...Object.values(node.states).flatMap((child) => nodes(child as StateNode))]
  for (const machine of [machines.deciding, machines.fold]) {
    const all = nodes(machine.root)
    expect(all.length).toBeGreaterThan(25)
    for (const node of all) {
      expect(node.after).toEqual([])
      expect(node.invoke).toEqual([])
      expect(node.always ?? []).toEqual([])
      const on = Object.keys(node.on)
      expect(on.filter((type) => type.includes('*'))).toEqual([])
      if (node.type === 'final') expect(on).toEqual([])
    }
  }
})

test('following an event changes no snapshot that was given out before', () => {
  const first = begin(machines)
  const frozen = JSON.stringify([first.value, first.context])
  const limited = follow(machines, first, governs('limited', ['bench']))
  expect(JSON.stringify([first.value, first.context])).toBe(frozen)
  expect(limited.context).toEqual({ barred: ['bench'] })
  expect(begin(machines).context).toEqual({ barred: [] })
})
