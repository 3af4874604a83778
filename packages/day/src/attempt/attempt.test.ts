import { expect, test } from 'vitest'
import {
  at,
  bo,
  colm,
  expected,
  juno,
  kilograms,
  mira,
  opened,
  reach,
  ready,
  records,
  seconds,
  starts,
  studentId,
  tells,
  tomas,
  tries,
  weighed,
  withSecond,
  words,
  ines,
  checksIn,
  cleared,
  warmedUp,
} from '../controls.ts'
import type { Day } from '../day.ts'
import { given } from '../given.ts'
import { inboxView } from '../views/inbox.ts'
import { recordView } from '../views/record.ts'
import { stationView } from '../views/station.ts'

const stationOf = (day: Day, bib: string, stationId: string) =>
  recordView(day, studentId(bib))?.stations.find((station) => station.stationId === stationId)
const seenAt = (day: Day, bib: string, stationId: string) => stationView(day, stationId)?.students.find((one) => one.bib === bib)

test('two tablets, one attempt: one try used, two readings, the slower counts once somebody has seen that they differ', () => {
  const kofi = given(opened([expected('105')]), ready('105'), starts('105', 'agility', 'a1'))
    .when(records('105', 'agility', 'a1', seconds(1730), {}, { at: '09:20:00' }))
    .then({ events: [{ type: 'resultRecorded', as: 'result' }] })
    .when(records('105', 'agility', 'a1-of-bo', seconds(1750), {}, { at: '09:20:00.8' }, bo))
    .then({
      events: [
        { type: 'resultRecorded', as: 'secondWitness', attemptId: 'a1' as never },
        { type: 'reviewOpened', because: 'readingsDiffer' },
      ],
    })
  expect(seenAt(kofi.day, '105', 'agility')).toMatchObject({ triesUsed: 1, tries: 2, differs: 'a1' })
  expect(stationOf(kofi.day, '105', 'agility')?.result).toMatchObject({ state: 'underReview', amount: 175 })
  kofi.when(tells('acknowledgeDifference', mira, { attemptId: 'a1', studentId: 's105' })).then({
    events: ['differenceAcknowledged', 'reviewSettled'],
  })
  expect(stationOf(kofi.day, '105', 'agility')?.result).toMatchObject({ state: 'provisional', amount: 175, notes: ['twoReadings'] })
  expect(seenAt(kofi.day, '105', 'agility')).toMatchObject({ triesUsed: 1, differs: null })
})

test('made official beyond the number it waits for a ruling, and back to practice it waits for nothing', () => {
  const change = (official: boolean, seenRevision: number) =>
    tells('correct', tomas, {
      correctionId: `k${seenRevision}`,
      studentId: 's116',
      attemptId: 'p1',
      change: { kind: 'official', official },
      reason: words,
      seenRevision,
    })
  const practised = given(
    opened([expected('116')]),
    ready('116'),
    starts('116', 'agility', 'p1', { official: false }),
    records('116', 'agility', 'p1', seconds(1690)),
  )
  practised.when(change(true, 1)).then({ events: ['corrected'] })
  expect(stationOf(practised.day, '116', 'agility')?.result).toMatchObject({ amount: 169, state: 'provisional' })

  const full = given(
    opened([expected('116')]),
    ready('116'),
    starts('116', 'agility', 'p1', { official: false }),
    records('116', 'agility', 'p1', seconds(1690)),
    tries('116', 'agility', 'a1', seconds(1800)),
    tries('116', 'agility', 'a2', seconds(1780)),
  )
  full.when(change(true, 1)).then({ events: ['corrected', { type: 'reviewOpened', because: 'beyondTries' }] })
  expect(stationOf(full.day, '116', 'agility')?.result).toMatchObject({ amount: 178, state: 'underReview' })
  full.when(change(false, 2)).then({ events: ['corrected', { type: 'reviewSettled', by: 'correct' }] })
  expect(stationOf(full.day, '116', 'agility')?.result).toMatchObject({ amount: 178, state: 'provisional' })
})

test('two equal readings close by themselves as agreed', () => {
  given(opened([expected('105')]), ready('105'), starts('105', 'agility', 'a1'), records('105', 'agility', 'a1', seconds(1730)))
    .when(records('105', 'agility', 'a1', seconds(1730), {}, {}, bo))
    .then({ events: [{ type: 'resultRecorded', as: 'secondWitness', reviewId: null }] })
    .and((day) => expect(stationOf(day, '105', 'agility')?.result).toMatchObject({ state: 'provisional', amount: 173 }))
})

test('readings more than a minute apart are never merged without a person, whose word decides', () => {
  const apart = () =>
    given(
      opened([expected('105')]),
      ready('105'),
      starts('105', 'agility', 'a1'),
      records('105', 'agility', 'a1', seconds(1730), {}, { at: '09:20' }),
    )
      .when(records('105', 'agility', 'a1', seconds(1750), {}, { at: '09:21:01' }, bo))
      .then({ events: ['resultRecorded', { type: 'reviewOpened', because: 'farApart' }] })
      .and((day) => expect(stationOf(day, '105', 'agility')?.result).toMatchObject({ state: 'underReview', amount: null }))
  const rules = (ruling: string) => (drive: Parameters<ReturnType<typeof tells>>[0]) =>
    drive.tell('rule', tomas, { reviewId: [...drive.day.reviews.keys()][0], ruling, reason: words } as never)
  apart()
    .when(rules('counts'))
    .and((day) => expect(stationOf(day, '105', 'agility')?.result.amount).toBe(175))
  apart()
    .when(rules('doesNotCount'))
    .and((day) => expect(stationOf(day, '105', 'agility')?.result.amount).toBe(173))
})

test('one saw it good and one saw a fault: the stricter governs until a supervisor has ruled', () => {
  given(opened([expected('105')]), ready('105'), starts('105', 'agility', 'a1'), records('105', 'agility', 'a1', seconds(1730)))
    .when(records('105', 'agility', 'a1', null, { outcome: 'foul', fault: 'markerDown' }, {}, bo))
    .then({ events: ['resultRecorded', { type: 'reviewOpened', because: 'readingsDiffer' }] })
    .and((day) => expect(stationOf(day, '105', 'agility')?.result.amount).toBeNull())
})

test('an unusual value that was asked about and kept is kept and flagged', () => {
  given(opened([expected('112')]), ready('112'), starts('112', 'sitAndReach', 'r1'))
    .when(
      tells('answerPrompt', juno, {
        prompt: 'unusualValue',
        studentId: 's112',
        attemptId: 'r1',
        shown: '61.0 is outside the usual range; keep or retype?',
        answer: 'keep',
        reason: null,
      }),
    )
    .then({ events: ['promptAnswered'] })
    .when(records('112', 'sitAndReach', 'r1', reach(610), { keptUnusual: true }))
    .then({ events: ['resultRecorded'] })
    .and((day) => expect(stationOf(day, '112', 'sitAndReach')?.result).toMatchObject({ amount: 610, notes: ['unusualKept'] }))
})

test('a practice that became a good one stays a practice; the kind is a supervisor’s to correct', () => {
  const official = { correctionId: 'k1', studentId: 's116', attemptId: 'p1', change: { kind: 'official', official: true }, reason: words }
  given(opened([expected('116')]), ready('116'), starts('116', 'agility', 'p1', { official: false }))
    .when(records('116', 'agility', 'p1', seconds(1690), { official: true }))
    .then({ events: [{ type: 'resultRecorded', official: false }] })
    .and((day) => expect(stationOf(day, '116', 'agility')?.result.amount).toBeNull())
    .when(tells('correct', mira, { ...official, seenRevision: 1 }))
    .then({ refused: 'kindFixed', says: /fixed before it starts/, next: /supervisor/i })
})

test('a third try of two: refused to start; run all the same, it is kept as extra and the best stays', () => {
  given(opened([expected('116')]), ready('116'), tries('116', 'agility', 'a1', seconds(1750)), tries('116', 'agility', 'a2', seconds(1730)))
    .when(starts('116', 'agility', 'a3', { earlyBecause: words }))
    .then({ refused: 'triesUsed', says: /2 of 2 tries are used/ })
    .when(records('116', 'agility', 'a3', seconds(1600), {}, { at: '10:30' }))
    .then({
      events: [
        { type: 'resultRecorded', as: 'extra' },
        { type: 'reviewOpened', because: 'beyondTries' },
      ],
    })
    .and((day) => expect(stationOf(day, '116', 'agility')?.result.amount).toBe(173))
})

test('rest is asked, and an early start needs a reason', () => {
  given(
    opened([expected('116')]),
    ready('116'),
    starts('116', 'agility', 'a1'),
    records('116', 'agility', 'a1', seconds(1750), {}, { at: '09:20' }),
  )
    .when(starts('116', 'agility', 'a2', {}, { at: '09:21' }))
    .then({ refused: 'restNotOver', says: /Rest of 3 min is not over; 120 s are left/ })
    .when(starts('116', 'agility', 'a2', { earlyBecause: words }))
    .then({ events: ['attemptStarted'] })
})

test('one attempt at a time, and one armed in error is given back', () => {
  given(opened([expected('116')]), ready('116'), starts('116', 'agility', 'a1'))
    .when(starts('116', 'sitAndReach', 'r1'))
    .then({ refused: 'otherUnderWay' })
    .when(tells('releaseAttempt', mira, { attemptId: 'a1', studentId: 's116' }), starts('116', 'sitAndReach', 'r1'))
    .then({ events: ['attemptStarted'] })
    .and((day) => expect(seenAt(day, '116', 'agility')?.triesUsed).toBe(0))
})

test('a result before its start, from two tablets: nothing of it is lost, and it waits', () => {
  given(opened([expected('116')]), ready('116'))
    .when(records('116', 'agility', 'a1', seconds(1750)))
    .then({ events: ['resultRecorded', { type: 'reviewOpened', because: 'noSuchAttempt' }] })
    .when(starts('116', 'agility', 'a1', {}, { decidedOnDevice: true }))
    .then({ events: ['attemptStarted'] })
    .and((day) => {
      expect(stationOf(day, '116', 'agility')?.attempts).toMatchObject([
        { number: 1, status: 'recorded', observations: [{ value: { amount: 1750 } }] },
      ])
      expect(stationOf(day, '116', 'agility')?.result.state).toBe('underReview')
    })
})

test('a value in a unit of another station is kept, waits and is never calculated with', () => {
  given(opened([expected('116')]), ready('116'), starts('116', 'sitAndReach', 'r1'))
    .when(records('116', 'sitAndReach', 'r1', kilograms(500)))
    .then({ events: ['resultRecorded', { type: 'reviewOpened', because: 'unreadable' }] })
    .and((day) => expect(stationOf(day, '116', 'sitAndReach')?.result).toMatchObject({ state: 'underReview', amount: null }))
})

const wrongPerson = () =>
  given(opened([expected('101 W'), expected('102')]), ready('101', '102'), tries('101', 'sitAndReach', 'r1', reach(380)), at('09:30'))
const reassign = {
  correctionId: 'k1',
  studentId: 's101',
  attemptId: 'r1',
  change: { kind: 'reassign', toStudentId: 's102', newAttemptId: 'r1-moved' },
  reason: words,
  seenRevision: 1,
}

test('the wrong person: a linked pair, the try given back, both histories show it; a later save over it is refused', () => {
  const day = wrongPerson()
    .when(tells('correct', juno, reassign))
    .then({ events: ['corrected'] })
    .when(tells('correct', tomas, { ...reassign, correctionId: 'k2', change: { kind: 'void' } }))
    .then({ refused: 'changedSince', says: /changed since you opened it/, next: /Review the new version/ }).day
  expect(seenAt(day, '101', 'sitAndReach')).toMatchObject({ triesUsed: 0, result: { state: 'none', amount: null } })
  expect(seenAt(day, '102', 'sitAndReach')).toMatchObject({ triesUsed: 1, result: { amount: 380 } })
  expect(stationOf(day, '101', 'sitAndReach')?.attempts).toMatchObject([{ status: 'reassigned', corrections: [{ correctionId: 'k1' }] }])
  expect(stationOf(day, '102', 'sitAndReach')?.attempts).toMatchObject([
    { attemptId: 'r1-moved', number: 1, corrections: [{ correctionId: 'k1' }] },
  ])
})

test('a slip undone and typed again is one try with the later value; undone alone it is used and void', () => {
  const undone = { correctionId: 'k1', studentId: 's101', attemptId: 'r1', change: { kind: 'void' }, reason: words, seenRevision: 1 }
  const typedAgain = { ...undone, correctionId: 'k2', change: { kind: 'value', value: reach(335) }, seenRevision: 2 }
  wrongPerson()
    .when(tells('correct', juno, undone))
    .and((day) => expect(seenAt(day, '101', 'sitAndReach')).toMatchObject({ triesUsed: 1, result: { amount: null } }))
    .when(tells('correct', juno, typedAgain))
    .and((day) => {
      expect(seenAt(day, '101', 'sitAndReach')).toMatchObject({ triesUsed: 1, result: { amount: 335, state: 'provisional' } })
      expect(stationOf(day, '101', 'sitAndReach')?.attempts).toMatchObject([{ corrections: [{ kind: 'void' }, { kind: 'value' }] }])
    })
})

test('after sign-off staff no longer correct alone: a supervisor does, and a second person agrees', () => {
  wrongPerson()
    .when(tells('signOffStudent', juno, { studentId: 's101' }), tells('correct', juno, reassign))
    .then({ refused: 'afterSignOff' })
    .when(tells('correct', tomas, reassign))
    .then({ refused: 'secondPersonMissing' })
    .when(tells('correct', withSecond(tomas, tomas), reassign))
    .then({ refused: 'secondPersonSame' })
    .when(tells('correct', withSecond(tomas, ines), reassign))
    .then({ events: [{ type: 'corrected', countersigned: { personId: 'ines' as never } }] })
})

test('given to somebody who had used every try, or was never cleared, it waits for a ruling there', () => {
  const full = [1, 2, 3].map((number) => tries('102', 'sitAndReach', `full-${number}`, reach(300)))
  given(opened([expected('101'), expected('102')]), ready('101', '102'), ...full, tries('101', 'sitAndReach', 'r1', reach(380)))
    .when(tells('correct', juno, reassign))
    .then({ events: ['corrected', { type: 'reviewOpened', because: 'beyondTries' }] })
    .and((day) => expect(stationOf(day, '102', 'sitAndReach')?.result.amount).toBe(300))
  given(opened([expected('101'), expected('102')]), ready('101'), checksIn('102'), tries('101', 'sitAndReach', 'r1', reach(380)))
    .when(tells('correct', juno, reassign))
    .then({ events: ['corrected', { type: 'reviewOpened', because: 'notCleared' }] })
    .and((day) => expect(stationOf(day, '102', 'sitAndReach')?.result.amount).toBeNull())
})

test('what was open about a try goes with it to the other student', () => {
  given(opened([expected('101'), expected('102')]), ready('101', '102'), tries('101', 'sitAndReach', 'r1', reach(380)))
    .when(tells('disputeReadBack', juno, { attemptId: 'r1', studentId: 's101', observationId: 'o-r1-mira' }))
    .when(tells('correct', juno, { ...reassign, seenRevision: 2 }))
    .then({ events: ['corrected'] })
    .and((day) => {
      expect(inboxView(day).items).toMatchObject([{ because: 'readBackDisputed', studentId: 's102', attemptId: 'r1-moved' }])
    })
})

test('the scale found heavy: all of its masses since the last good check wait, nothing is recalculated, and it is blocked', () => {
  const bibs = Array.from({ length: 23 }, (_, index) => String(200 + index))
  const check = (passed: boolean) => tells('checkEquipment', tomas, { equipmentId: 'scale-1', passed, reference: null, read: null })
  const before = given(opened(['117', '118', ...bibs].map((bib) => expected(bib))), at('07:20'), checksIn('118'), weighed('118', 7000))
    .when(
      at('07:30'),
      check(true),
      ...bibs.slice(1).map((bib) => ready(bib)),
      checksIn('117'),
      cleared('117'),
      warmedUp('117'),
      weighed('117', 8000),
    )
    .when(starts('117', 'benchPress', 'b1', { load: kilograms(875) }, {}, colm), records('117', 'benchPress', 'b1', kilograms(875)))
  expect(stationOf(before.day, '117', 'benchPress')?.result).toMatchObject({ amount: 109, percentile: 50 })
  before.when(at('12:00'), check(false))
  const asked = inboxView(before.day).items.filter((item) => item.because === 'equipmentOutOfTolerance')
  expect(new Set(asked.map((item) => item.studentId)).size).toBe(23)
  expect(asked.map((item) => item.studentId)).not.toContain('s118')
  expect(stationOf(before.day, '117', 'benchPress')?.result).toMatchObject({ state: 'underReview', amount: 109, percentile: 50 })
  before
    .when(weighed('200', 7800))
    .then({ events: ['weighed', { type: 'reviewOpened', because: 'equipmentOutOfTolerance' }] })
    .when(check(true), weighed('200', 7800))
    .then({ events: ['weighed'] })
  // The figures of the other mass, as a person who weighs again would get them.
  before.when(weighed('117', 7840))
  expect(stationOf(before.day, '117', 'benchPress')?.result).toMatchObject({ amount: 112, percentile: 60 })
})
