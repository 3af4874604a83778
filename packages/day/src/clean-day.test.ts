import { expect, test } from 'vitest'
import {
  all,
  at,
  checksIn,
  cleared,
  coolsDown,
  crosses,
  demoFacts,
  demoRules,
  expected,
  gun,
  kilograms,
  mira,
  opened,
  reach,
  reads,
  ready,
  records,
  seconds,
  starts,
  studentId,
  tells,
  tries,
  warmedUp,
  weighed,
  words,
  ines,
  tomas,
} from './controls.ts'
import { given } from './given.ts'
import { boardView } from './views/board.ts'
import { inboxView } from './views/inbox.ts'
import { medicalView } from './views/medical.ts'
import { recordView } from './views/record.ts'
import { stationView } from './views/station.ts'
import type { Day } from './day.ts'

/* Norms FX-1 are invented: evenly spaced figures that describe nobody. */

const resultAt = (day: Day, bib: string, stationId: string) =>
  recordView(day, studentId(bib))?.stations.find((station) => station.stationId === stationId)?.result

const laps = (wave: string, bib: string, ...elapsed: string[]) => all(...elapsed.map((one) => crosses(wave, bib, one)))

const cleanDay = () =>
  given(opened([expected('108 W 24')]), checksIn('108'), cleared('108'), warmedUp('108'), weighed('108', 6240)).when(
    tries('108', 'benchPress', 'b1', kilograms(425)),
    tries('108', 'benchPress', 'b2', kilograms(450)),
    tries('108', 'benchPress', 'b3', kilograms(475), { outcome: 'noLift', fault: 'noLift' }),
    tries('108', 'agility', 'a1', seconds(1893), { equipmentIds: ['watch-1'] }),
    tries('108', 'agility', 'a2', seconds(1861), { equipmentIds: ['watch-1'] }),
    tries('108', 'sitAndReach', 'r1', reach(310), { equipmentIds: ['box-1'] }),
    tries('108', 'sitAndReach', 'r2', reach(335), { equipmentIds: ['box-1'] }),
    tries('108', 'sitAndReach', 'r3', reach(330), { equipmentIds: ['box-1'] }),
    at('10:00'),
    reads(24.5),
    gun('w1', ['108']),
    laps('w1', '108', '2:10.0', '4:21.0', '6:32.0', '8:43.0', '10:54.0', '13:05.4'),
    coolsDown('108'),
  )

test('a clean day: every result with its percentile, table, method and instrument, and no exception open', () => {
  const { day } = cleanDay()
    .when(tells('signOffStudent', tomas, { studentId: 's108' }))
    .then({ events: ['studentSignedOff'] })

  expect(resultAt(day, '108', 'benchPress')).toMatchObject({ amount: 72, unit: 'percentOfBodyMass', percentile: 70, placing: '70th' })
  expect(resultAt(day, '108', 'agility')).toMatchObject({ amount: 187, unit: 'tenthsOfSecond', percentile: 60, timing: 'hand' })
  expect(resultAt(day, '108', 'sitAndReach')).toMatchObject({ amount: 335, says: '33.5 cm', percentile: 50, equipmentIds: ['box-1'] })
  expect(resultAt(day, '108', 'run')).toMatchObject({ amount: 786, says: '13:06', percentile: 60 })
  for (const station of ['benchPress', 'agility', 'sitAndReach', 'run']) {
    const result = resultAt(day, '108', station)
    expect(result).toMatchObject({ state: 'final', group: 'W20–29', table: expect.stringContaining('FX-1'), invented: true })
    const onBoard = boardView(day).students[0]?.stations.find((one) => one.stationId === station)
    expect(onBoard).toMatchObject({ placing: result?.placing, says: result?.says, state: 'done' })
  }
  expect(inboxView(day).items).toEqual([])
  expect([...day.anomalies]).toEqual([])
})

test('medical skipped: refused and kept, then met as soon as a clearance stands; no reason is visible', () => {
  given(opened([expected('107')]), checksIn('107'))
    .when(starts('107', 'agility', 'a1'))
    .then({ refused: 'notCleared', says: /No clearance is recorded for #107/, next: /medical/ })
    .and((day) => expect(medicalView(day).students[0]?.skipped).toBe(true))
    .when(cleared('107'))
    .then({ events: ['clearanceRecorded'] })
    .and((day) => {
      const gates = stationView(day, 'agility')?.students[0]?.gates
      expect(gates?.find((gate) => gate.gate === 'clearance')?.state).toBe('met')
      expect(JSON.stringify(stationView(day, 'agility')?.students)).not.toMatch(/limits|petra|reason|diagnos/i)
    })
})

test('a birthday on the day: the band of the completed year all day, and the other band after a change by two', () => {
  const run = given(opened([expected('105 M 30')]), ready('105'), at('10:00'), reads(24)).when(
    gun('w1', ['105']),
    laps('w1', '105', '2:00.0', '4:00.0', '6:00.0', '8:00.0', '10:00.0', '12:05.0'),
  )
  expect(resultAt(run.day, '105', 'run')).toMatchObject({ percentile: 60, group: 'M30–39', amount: 725 })
  run
    .when(tells('changeNormGroup', { ...tomas, roles: ['coordinator'] }, change('105', 29)))
    .then({ refused: 'secondPersonMissing' })
    .when(tells('changeNormGroup', seconded('ines', 'ines'), change('105', 29)))
    .then({ refused: 'secondPersonSame' })
    .when(tells('changeNormGroup', seconded('ines', 'tomas'), change('105', 29)))
    .then({ events: [{ type: 'normGroupChanged', from: { sex: 'M', ageYears: 30 }, to: { sex: 'M', ageYears: 29 } }] })
  expect(resultAt(run.day, '105', 'run')).toMatchObject({ percentile: 50, group: 'M20–29', amount: 725 })
})

test('a retest: the bench is not covered, a run on its last days is scored, and the day after it ended nothing starts', () => {
  const retest = { entitlementId: 'e-112', dayId: 'skarnvale-2027-05-11', stationIds: ['run'], until: '2027-05-25' } as never
  const back = (date: string) =>
    given(opened([expected('112', { retest })], demoRules(), demoFacts({ date })), ready('112'), at('10:00'), reads(24))

  const may20 = back('2027-05-20')
    .when(starts('112', 'benchPress', 'b1', { load: kilograms(450) }))
    .then({ refused: 'noRetestThere', says: /^The entitlement covers Run, one and a half miles only\.$/ })
    .when(gun('w1', ['112']), laps('w1', '112', '2:00.0', '4:00.0', '6:00.0', '8:00.0', '10:00.0', '12:05.0'))
  expect(resultAt(may20.day, '112', 'run')).toMatchObject({ amount: 725, table: expect.stringContaining('FX-1'), state: 'provisional' })

  back('2027-05-26')
    .when(gun('w1', ['112']))
    .then({ refused: 'runnerMayNotStart', says: /The entitlement ended 2027-05-25\./ })
})

const change = (bib: string, ageYears: number) => ({ studentId: studentId(bib), normGroup: { sex: 'M', ageYears }, reason: words })
const seconded = (one: string, other: string) =>
  ({ ...tomas, personId: one, roles: ['coordinator'], countersigned: { personId: other, roles: ['supervisor'] } }) as never

test('late: checked in as late, and no effort starts before the warm-up is confirmed', () => {
  given(opened([expected('101'), expected('114')]), ready('101'), at('09:10'), tries('101', 'sitAndReach', 'r1', reach(300)))
    .when(tells('checkIn', mira, { studentId: 's114', secondIdentifier: 'photo' }))
    .then({ events: [{ type: 'checkedIn', late: true }] })
    .when(cleared('114'))
    .when(starts('114', 'agility', 'a1'))
    .then({ refused: 'warmUpMissing' })
    .when(starts('114', 'skinfold', 'f1'))
    .then({ events: ['attemptStarted'] })
    .when(records('114', 'skinfold', 'f1', null, { outcome: 'foul', fault: 'wetSkin' }), warmedUp('114'), starts('114', 'agility', 'a1'))
    .then({ events: ['attemptStarted'] })
})

test('staff: somebody who is not listed as qualified only with a stated reason', () => {
  const bo = { personId: 'bo', stationId: 'skinfold', qualified: false, acceptedBecause: null }
  given(opened([]))
    .when(tells('assignStaff', tomas, bo))
    .then({ refused: 'notQualified', says: /bo is not listed as qualified for Skinfold/, next: /supervisor may accept/i })
    .when(tells('assignStaff', ines, { ...bo, acceptedBecause: words }))
    .then({ refused: 'notQualified' })
    .when(tells('assignStaff', tomas, { ...bo, acceptedBecause: words }))
    .then({ events: ['staffAssigned'] })
    .and((day) => expect(stationView(day, 'skinfold')?.staff).toEqual([{ personId: 'bo', accepted: true }]))
})
