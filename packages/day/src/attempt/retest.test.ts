import { expect, test } from 'vitest'
import {
  at,
  colm,
  crosses,
  demoFacts,
  demoRules,
  disposes,
  expected,
  gun,
  holds,
  kilograms,
  opened,
  reads,
  ready,
  starts,
  studentId,
  wren,
} from '../controls.ts'
import { given } from '../given.ts'
import { gatesOf } from '../gates.ts'
import { recordView } from '../views/record.ts'

/** Tendai, interrupted by the hold of 11 May, comes on an entitlement for the run alone, to 25 May. */
const retest = { entitlementId: 'e-112', dayId: 'skarnvale-2027-05-11', stationIds: ['run'], until: '2027-05-25' } as never
const comingOn = (date: string) =>
  given(opened([expected('112', { retest })], demoRules(), demoFacts({ date })), ready('112'), at('10:00'), reads(25))

test('on the 26th the entitlement has ended on the 25th', () => {
  comingOn('2027-05-26')
    .when(gun('w1', ['112'], { at: '10:15' }))
    .then({ refused: 'runnerMayNotStart', says: /entitlement ended 2027-05-25/ })
})

test('a bench effort on the 20th: the entitlement covers the run only', () => {
  comingOn('2027-05-20')
    .when(starts('112', 'benchPress', 'b1', { load: kilograms(500) }, {}, colm))
    .then({ refused: 'noRetestThere', says: /covers .*[Rr]un.* only/ })
})

test('its last day still counts, and the run is scored', () => {
  const laps = ['2:00', '4:01', '6:03', '8:05', '10:06']
  const run = comingOn('2027-05-25').when(
    gun('w1', ['112'], { at: '10:15' }),
    ...laps.map((lap) => crosses('w1', '112', lap)),
    crosses('w1', '112', '12:05', 'finish', wren),
  )
  const result = recordView(run.day, studentId('112'))?.stations.find(({ stationId }) => stationId === 'run')?.result
  expect(result).toMatchObject({ says: '12:05', percentile: 50 })
})

test('what the hold interrupted stays in the record of its day, without a score', () => {
  const then = given(opened([expected('112')]), ready('112'), at('10:00'), reads(25)).when(
    gun('w1', ['112'], { at: '10:18' }),
    crosses('w1', '112', '2:00'),
    holds('h1', {}, { at: '10:25' }),
    disposes('h1'),
  )
  const record = recordView(then.day, studentId('112'))
  expect(record?.entitlements).toMatchObject([{ stationIds: ['run'], until: '2027-05-25' }])
  expect(record?.stations.find(({ stationId }) => stationId === 'run')?.attempts).toMatchObject([{ status: 'interrupted' }])
})

test('the gate panel says before the start what the start would be refused for', () => {
  const gateAt = (date: string, stationId: string) => {
    const { day } = comingOn(date)
    const station = day.opened!.rules.stations.find((one) => one.stationId === stationId)!
    return gatesOf(day, day.students.get(studentId('112'))!, station).find(({ gate }) => gate === 'entitlement')
  }
  expect(gateAt('2027-05-20', 'run')).toMatchObject({ state: 'met' })
  expect(gateAt('2027-05-20', 'benchPress')).toMatchObject({ state: 'notMet', rule: 'noRetestThere' })
  expect(gateAt('2027-05-26', 'run')).toMatchObject({ state: 'notMet', rule: 'entitlementEnded' })
})
