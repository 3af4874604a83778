import { expect, test } from 'vitest'
import {
  checksIn,
  cleared,
  colm,
  dai,
  expected,
  kilograms,
  opened,
  petra,
  reach,
  ready,
  records,
  starts,
  stops,
  tells,
  tomas,
  tries,
  wren,
  at,
  warmedUp,
  weighed,
} from '../controls.ts'
import { given } from '../given.ts'
import { medicalView } from '../views/medical.ts'
import { recordView } from '../views/record.ts'
import { stationView } from '../views/station.ts'

const noLift = { status: 'limited', limits: [{ kind: 'noMaximalLift' }] }
const press = (bib: string, id = 'b1', more = {}) => starts(bib, 'benchPress', id, { load: kilograms(500), ...more }, {}, colm)

test('two screeners at once: the stricter governs, both stand, and a conflict waits for a screener', () => {
  given(opened([expected('109')]), checksIn('109'), warmedUp('109'), weighed('109'), at('09:05:10'), cleared('109'))
    .when(cleared('109', noLift, dai))
    .then({ events: ['clearanceRecorded', { type: 'reviewOpened', because: 'clearanceConflict' }] })
    .when(press('109'))
    .then({ refused: 'notCleared', says: /Not cleared for Bench press/ })
    .when(starts('109', 'agility', 'a1'))
    .then({ events: ['attemptStarted'] })
    .and((day) => {
      const [student] = medicalView(day).students
      expect(student).toMatchObject({ conflict: true, clearance: { status: 'limited' } })
      expect(student?.standing).toHaveLength(2)
      expect(recordView(day, 's109')?.reviews).toEqual([])
      expect(JSON.stringify(stationView(day, 'benchPress'))).not.toContain('noMaximalLift')
    })
    .when(cleared('109', { clearanceId: 'settled', supersedes: 'clearance-dai-109' }))
    .then({ events: ['clearanceRecorded', 'reviewSettled'] })
    .and((day) => expect(medicalView(day).students[0]).toMatchObject({ conflict: false, clearance: { status: 'cleared' } }))
})

test('in the other order the limits stand all the same', () => {
  given(opened([expected('109')]), checksIn('109'), warmedUp('109'), weighed('109'), cleared('109', noLift, dai), cleared('109'))
    .when(press('109'))
    .then({ refused: 'notCleared' })
})

test('withdrawn while on the bench: that attempt ends without a used try, and nothing starts', () => {
  given(opened([expected('110')]), ready('110'), press('110'))
    .when(tells('withdrawClearance', petra, { clearanceId: 'clearance-petra-110', studentId: 's110' }))
    .then({ events: ['clearanceWithdrawn', { type: 'attemptInterrupted', by: 'medicalStop' }] })
    .when(press('110', 'b2'))
    .then({ refused: 'notCleared' })
    .and((day) => expect(stationView(day, 'benchPress')?.students[0]?.triesUsed).toBe(0))
})

test('a screener who has not seen the withdrawal does not clear over it', () => {
  given(opened([expected('110')]), ready('110'))
    .when(tells('withdrawClearance', petra, { clearanceId: 'clearance-petra-110', studentId: 's110' }))
    .when(cleared('110', { clearanceId: 'again', supersedes: 'clearance-petra-110' }, dai))
    .then({ events: ['clearanceRecorded', { type: 'reviewOpened', because: 'clearanceConflict' }] })
    .when(press('110'))
    .then({ refused: 'notCleared' })
})

test('a stop: blocked everywhere, whatever a station asks; only a screener restores', () => {
  given(opened([expected('115'), expected('116')]), ready('115', '116'))
    .when(stops('115'))
    .then({ events: ['studentStopped'] })
    .when(starts('115', 'sitAndReach', 'r1'))
    .then({ refused: 'stopped', next: /Only a screener can restore/ })
    .when(starts('116', 'sitAndReach', 'r2'))
    .then({ events: ['attemptStarted'] })
    .when(tells('restore', wren, { studentId: 's115' }))
    .then({ refused: 'onlyScreener' })
    .when(tells('restore', petra, { studentId: 's115' }))
    .then({ events: ['studentRestored'] })
    .when(starts('115', 'sitAndReach', 'r1'))
    .then({ events: ['attemptStarted'] })
})

test('a referral: stopped and referred, and each answer lets go of no more than it says', () => {
  const referral = { referralId: 'ref-1', studentId: 's115' }
  const answers = (outcome: string, id = 'ref-1') => tells('answerReferral', petra, { ...referral, referralId: id, outcome })
  const referred = () => given(opened([expected('115')]), ready('115'), tells('refer', wren, { ...referral, to: 'screener' }))
  referred()
    .when(answers('cleared'))
    .then({ events: ['referralAnswered', 'studentRestored'] })
  referred()
    .when(answers('notToday'))
    .then({ events: ['referralAnswered', { type: 'clearanceRecorded', status: 'notToday' }] })
    .when(starts('115', 'sitAndReach', 'r1'))
    .then({ refused: 'stopped' })
  // Limited: nobody goes on before the limits stand.
  referred()
    .when(answers('limited'))
    .then({ events: ['referralAnswered'] })
    .when(starts('115', 'sitAndReach', 'r1'))
    .then({ refused: 'stopped' })
  referred()
    .when(cleared('115', { ...noLift, clearanceId: 'limits', supersedes: 'clearance-petra-115' }), answers('limited'))
    .then({ events: ['referralAnswered', 'studentRestored'] })
  // While an ambulance has not answered, the screener's word alone restores nobody.
  referred()
    .when(tells('refer', wren, { ...referral, referralId: 'ref-2', to: 'ambulance' }), answers('cleared'))
    .then({ events: ['referralAnswered'] })
    .when(answers('cleared', 'ref-2'))
    .then({ events: ['referralAnswered', 'studentRestored'] })
})

test('a referral that is told late stops from when it was said: what ended since then waits for a ruling', () => {
  given(opened([expected('115')]), ready('115'), tries('115', 'sitAndReach', 'r1', reach(300)))
    .when((drive) =>
      tells('refer', wren, { referralId: 'ref-1', studentId: 's115', to: 'screener' }, { occurredAt: drive.time - 60_000 })(drive),
    )
    .then({ events: ['studentStopped', { type: 'reviewOpened', because: 'stopped' }, 'studentReferred'] })
})

test('a health event blocks until a screener has cleared, and a not today does not lift it', () => {
  given(opened([expected('115')]), ready('115'), tells('reportHealthEvent', tomas, { studentId: 's115', words: null }))
    .when(starts('115', 'agility', 'a1'))
    .then({ refused: 'healthEventOpen' })
    .when(cleared('115', { status: 'notToday', clearanceId: 'no', supersedes: 'clearance-petra-115' }))
    .and((day) => expect(medicalView(day).students[0]?.healthEvent).toBe(true))
    .when(cleared('115', { clearanceId: 'yes', supersedes: 'no' }), starts('115', 'agility', 'a1'))
    .then({ events: ['attemptStarted'] })
})

test('out of contact nobody is cleared, though not today stands from whenever it was said', () => {
  const offline = { decidedOnDevice: true, contactAgeMs: 120_000 }
  given(opened([expected('115')]), checksIn('115'))
    .when(cleared('115', {}, petra, offline))
    .then({ refused: 'notWithoutContact' })
    .when(cleared('115', { status: 'notToday' }, petra, offline))
    .then({ events: ['clearanceRecorded'] })
})

test('weigh-in missing before the bench: refused; lifted all the same, the load is kept and the score waits', () => {
  given(opened([expected('118')]), checksIn('118'), cleared('118'), warmedUp('118'))
    .when(press('118'))
    .then({ refused: 'bodyMassMissing' })
    .when(press('118', 'b1', {}), records('118', 'benchPress', 'b9', kilograms(500)))
    .then({ events: ['resultRecorded', 'reviewOpened'] })
    .and((day) =>
      expect(recordView(day, 's118')?.stations.find((one) => one.stationId === 'benchPress')?.result).toMatchObject({
        state: 'underReview',
        amount: null,
      }),
    )
})
