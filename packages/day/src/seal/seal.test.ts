import { expect, test } from 'vitest'
import {
  at,
  crosses,
  expected,
  gun,
  ines,
  mira,
  opened,
  petra,
  reach,
  reads,
  ready,
  records,
  starts,
  stops,
  studentId,
  tells,
  tomas,
  tries,
  weighed,
  withSecond,
  words,
  kilograms,
  coolsDown,
} from '../controls.ts'
import type { Day } from '../day.ts'
import { given } from '../given.ts'
import { dayViews } from '../views.ts'
import { inboxView } from '../views/inbox.ts'
import { recordView } from '../views/record.ts'

const resultAt = (day: Day, bib: string, stationId: string) =>
  recordView(day, studentId(bib))?.stations.find((station) => station.stationId === stationId)?.result
const seals = (acceptOpenReviews: unknown = null) => tells('sealDay', tomas, { acceptOpenReviews })
const absent = (bib: string) => tells('markAbsent', mira, { studentId: studentId(bib) })

const day = () =>
  given(opened([expected('101'), expected('102')]), ready('101')).when(
    tries('101', 'sitAndReach', 'r1', reach(330)),
    tries('101', 'benchPress', 'b1', kilograms(600)),
  )
const sealed = () => day().when(absent('102'), seals())

test('nobody is left unaccounted for: expected, under way, on the track, or referred and without an answer', () => {
  day()
    .when(seals())
    .then({ refused: 'notFinished', says: /1 students are not accounted for: #s102/ })
    .and((now) => expect(inboxView(now).inTheWayOfSeal).toMatchObject([{ kind: 'notFinished', count: 1 }]))
    .when(absent('102'), starts('101', 'sitAndReach', 'r2'), seals())
    .then({ refused: 'notFinished' })
    .when(
      records('101', 'sitAndReach', 'r2', reach(320)),
      tells('refer', mira, { referralId: 'f1', studentId: 's101', to: 'screener' }),
      seals(),
    )
    .then({ refused: 'notFinished' })
    .when(tells('answerReferral', petra, { referralId: 'f1', studentId: 's101', outcome: 'cleared' }), seals())
    .then({ events: [{ type: 'daySealed', openReviews: 0 }] })
})

test('open reviews are ruled on first, or accepted with a stated reason', () => {
  day()
    .when(absent('102'), tells('disputeReadBack', mira, { attemptId: 'r1', studentId: 's101', observationId: 'o1' }), seals())
    .then({ refused: 'reviewsOpen', says: /1 reviews are open/ })
    .when(seals(words))
    .then({ events: [{ type: 'daySealed', openReviews: 1 }] })
})

test('once sealed, results are final, nothing starts, and what is told late is kept apart until a ruling', () => {
  const late = sealed()
  expect(resultAt(late.day, '101', 'sitAndReach')).toMatchObject({ state: 'final', amount: 330 })
  late
    .when(starts('101', 'sitAndReach', 'r3'))
    .then({ refused: 'sealed' })
    .when(records('101', 'sitAndReach', 'r9', reach(400), {}, { at: '20:00' }))
    .then({
      events: ['resultRecorded', { type: 'reviewOpened', because: 'noSuchAttempt' }, { type: 'reviewOpened', because: 'lateAfterSeal' }],
    })
  expect(resultAt(late.day, '101', 'sitAndReach')).toMatchObject({ amount: 330 })
  const [unseen, afterSeal] = [...late.day.reviews.keys()]
  const rules = (reviewId: unknown) => tells('rule', { ...tomas, personId: 'else' as never }, { reviewId, ruling: 'counts', reason: words })
  late.when(rules(unseen))
  expect(resultAt(late.day, '101', 'sitAndReach')).toMatchObject({ amount: 330 })
  late.when(rules(afterSeal))
  expect(resultAt(late.day, '101', 'sitAndReach')).toMatchObject({ amount: 400, notes: ['countsByRuling'] })
})

test('a start told late, of a try whose result the day had unseen, moves nothing until a ruling', () => {
  const late = day()
    .when(records('101', 'sitAndReach', 'r9', reach(400), {}, { at: '09:00' }))
    .then({ events: ['resultRecorded', { type: 'reviewOpened', because: 'noSuchAttempt' }] })
  const [unseen] = [...late.day.reviews.keys()]
  const rules = (reviewId: unknown, ruling: string) =>
    tells('rule', { ...tomas, personId: 'else' as never }, { reviewId, ruling, reason: words })
  late.when(rules(unseen, 'settled'), absent('102'), seals())
  expect(resultAt(late.day, '101', 'sitAndReach')).toMatchObject({ amount: 330 })
  late
    .when(starts('101', 'sitAndReach', 'r9', {}, { decidedOnDevice: true, at: '09:00' }))
    .then({ events: ['attemptStarted', { type: 'reviewOpened', because: 'lateAfterSeal' }] })
  expect(resultAt(late.day, '101', 'sitAndReach')).toMatchObject({ amount: 330 })
  late.when(rules([...late.day.reviews.keys()].at(-1), 'counts'))
  expect(resultAt(late.day, '101', 'sitAndReach')).toMatchObject({ amount: 400 })
})

test('a weighing told late moves no bench result', () => {
  const late = sealed()
  expect(resultAt(late.day, '101', 'benchPress')).toMatchObject({ amount: 80 })
  late.when(weighed('101', 6000)).then({ events: ['weighed', { type: 'reviewOpened', because: 'lateAfterSeal' }] })
  expect(resultAt(late.day, '101', 'benchPress')).toMatchObject({ amount: 80 })
  const reviewId = [...late.day.reviews.keys()].at(-1)
  late.when(tells('rule', { ...tomas, personId: 'else' as never }, { reviewId, ruling: 'counts', reason: words }))
  expect(resultAt(late.day, '101', 'benchPress')).toMatchObject({ amount: 100 })
})

test('a second reading of a sealed try takes nothing from it', () => {
  const late = sealed().when(records('101', 'sitAndReach', 'r1', reach(250), {}, { at: '08:00:40' }, petra))
  expect(resultAt(late.day, '101', 'sitAndReach')).toMatchObject({ amount: 330, state: 'underReview' })
})

test('a missed crossing that arrives behind the seal proves no lap by itself', () => {
  const run = given(opened([expected('101')]), ready('101'), at('10:00'), reads(24), gun('w1', ['101']))
    .when(...['2:00', '4:00', '8:00', '10:00'].map((lap) => crosses('w1', '101', lap)), crosses('w1', '101', '12:00', 'finish'))
    .when(coolsDown('101'), seals(words))
    .when(crosses('w1', '101', '6:00', 'lap', mira))
    .then({ events: ['crossingRecorded', { type: 'reviewOpened', because: 'lateAfterSeal' }] })
  expect(resultAt(run.day, '101', 'run')).toMatchObject({ amount: null, state: 'underReview' })
})

test('a reopening takes two, lets a correction in, starts nothing, and ends with the seal that stands', () => {
  sealed()
    .when(tells('reopen', tomas, { reason: words }))
    .then({ refused: 'secondPersonMissing' })
    .when(tells('reopen', withSecond(tomas, tomas), { reason: words }))
    .then({ refused: 'secondPersonSame' })
    .when(tells('reopen', withSecond(tomas, ines), { reason: words }))
    .then({ events: ['reopened'] })
    .when(starts('101', 'sitAndReach', 'r3'))
    .then({ refused: 'sealed' })
    .when(tells('bindBib', mira, { studentId: 's101', bib: '777' }))
    .then({ events: ['bibBound'] })
    .when(seals())
    .then({ events: ['daySealed'] })
    .and((now) => {
      const { sealedVersion, state } = dayViews.day.of(now, 'all') as { sealedVersion: number; state: string }
      expect(state).toBe('sealed')
      expect(sealedVersion).toBe(now.version)
    })
    .when(tells('bindBib', mira, { studentId: 's101', bib: '778' }))
    .then({ refused: 'sealed' })
})

test('a stop behind the seal is taken as any stop', () => {
  sealed()
    .when(stops('101'))
    .then({ events: ['studentStopped'] })
})
