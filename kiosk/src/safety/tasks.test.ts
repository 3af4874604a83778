import '../words/floor-screens.ts'
import { demoPolicy } from '@musterbook/heat/policies'
import type { HoldView, SafetyView } from '@musterbook/day/views/safety'
import { expect, test } from 'vitest'
import type { Contact } from './roll-call.ts'
import { mustHear, othersWhoHear } from './roll-call.ts'
import { tasksOf } from './tasks.ts'

const now = Date.UTC(2027, 4, 11, 8, 30)
const minute = 60_000
const reading = (minutesAgo: number, more = {}) => ({
  readingId: `r${minutesAgo}`,
  wbgtTenths: 262,
  unit: 'degC',
  settled: true,
  usable: true,
  method: 'instrument',
  wetBulbKind: 'natural',
  zoneId: 'track',
  readAt: now - minutesAgo * minute,
  bandMs: 0,
  validUntil: now - minutesAgo * minute + 30 * minute,
  ...more,
})
const view = (more: object = {}) =>
  ({
    policy: demoPolicy,
    readings: [reading(3)],
    holds: [],
    stops: [],
    headcounts: [],
    zones: [
      { zoneId: 'track', name: 'Track', outdoor: true },
      { zoneId: 'gym', name: 'Gym', outdoor: false },
    ],
    bibs: { 112: 's112' },
    ...more,
  }) as unknown as SafetyView
const hold = (more: object = {}) =>
  ({
    holdId: 'h1',
    kind: 'heat',
    zoneId: 'track',
    zone: 'Track',
    since: now - minute,
    lifted: null,
    underWay: [{ studentId: 's112' }],
    dispositionDue: 0,
    heard: [],
    notHeard: ['track-1'],
    proposal: null,
    ...more,
  }) as unknown as HoldView
const device = (deviceId: string, zoneId: string | null, more: Partial<Contact> = {}): Contact => ({
  deviceId,
  name: deviceId,
  purpose: 'staff',
  stationId: null,
  lastHeardAt: now,
  zoneId,
  unreachable: false,
  ...more,
})
const says = (safety: SafetyView, contacts: readonly Contact[] = []) =>
  tasksOf({ safety, now, contacts, nameOf: (personId) => personId }).map((task) => task.says)

test('a fresh reading asks for nothing, one that soon expires does, and one past its age is overdue', () => {
  expect(says(view())).toEqual([])
  expect(says(view({ readings: [reading(26)] }))).toEqual(['The reading expires in 4 min'])
  expect(says(view({ readings: [reading(30)] }))).toEqual(['The reading expires in 0 s'])
  expect(says(view({ readings: [reading(31)] }))).toEqual(['Reading overdue: the last one is 31 min old'])
})

test('a reading that has not settled, or one from the gym, is none', () => {
  expect(says(view({ readings: [reading(1, { settled: false })] }))).toEqual(['No usable reading yet: take one'])
  expect(says(view({ readings: [reading(1, { zoneId: 'gym' })] }))).toEqual(['No usable reading yet: take one'])
})

test('a hold asks for outcomes, for who has not heard it, and for a headcount taken after it', () => {
  const contacts = [device('track-1', 'track')]
  expect(says(view({ holds: [hold({ dispositionDue: 12 })] }), contacts)).toEqual([
    'Track: 12 under way have no recorded outcome',
    'Not heard the hold: track-1',
    'Track: headcount after the hold',
  ])
  const before = { zoneId: 'track', zone: 'Track', at: now - 2 * minute, present: [], missing: [] }
  const after = { ...before, at: now, missing: ['s112'] }
  const heard = hold({ heard: [{ deviceId: 'track-1', at: now, personId: 'wren' }], notHeard: [] })
  expect(says(view({ holds: [heard], headcounts: [before] }), contacts)).toEqual(['Track: headcount after the hold'])
  expect(says(view({ holds: [heard], headcounts: [after] }), contacts)).toEqual(['Track: not seen at the headcount: #112'])
})

test('a medical stop stays until somebody has arrived', () => {
  const stop = { studentId: 's112', bib: '112', zone: 'Track', answers: [] as { answer: string }[] }
  expect(says(view({ stops: [stop] }))).toEqual(['Medical stop #112, Track: not acknowledged'])
  expect(says(view({ stops: [{ ...stop, answers: [{ answer: 'acknowledged' }] }] }))).toEqual(['Medical stop #112: nobody has arrived yet'])
  expect(says(view({ stops: [{ ...stop, answers: [{ answer: 'arrived' }] }] }))).toEqual([])
})

test('the roll-call is of the devices that stand in the zone and are in use; others are listed apart', () => {
  const contacts = [
    device('track-1', 'track'),
    device('track-2', 'track', { lastHeardAt: null }),
    device('track-3', 'track', { unreachable: true }),
    device('bench-1', 'gym'),
    device('board', 'track', { purpose: 'board' }),
  ]
  expect(mustHear(hold(), view(), contacts).map(({ id, state }) => [id, state])).toEqual([
    ['track-1', 'notHeard'],
    ['track-3', 'unreachable'],
  ])
  expect(othersWhoHear(hold(), view(), contacts).map(({ id }) => id)).toEqual(['bench-1'])
  expect(mustHear(hold({ zoneId: null }), view(), contacts)).toHaveLength(2)
  expect(mustHear(hold({ zoneId: 'gym' }), view(), contacts).map(({ id }) => id)).toEqual(['bench-1'])
})
