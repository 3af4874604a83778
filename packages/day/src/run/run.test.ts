import { expect, test } from 'vitest'
import {
  all,
  at,
  bo,
  coolsDown,
  crosses,
  expected,
  gun,
  opened,
  reach,
  reads,
  ready,
  starts,
  stops,
  studentId,
  tells,
  tries,
  wren,
  petra,
  mira,
  tomas,
  words,
  records,
} from '../controls.ts'
import type { Day } from '../day.ts'
import { given } from '../given.ts'
import { inboxView } from '../views/inbox.ts'
import { recordView } from '../views/record.ts'
import { safetyView } from '../views/safety.ts'
import { stationView } from '../views/station.ts'

const runOf = (day: Day, bib: string) => recordView(day, studentId(bib))?.stations.find((station) => station.stationId === 'run')
const runner = (day: Day, bib: string) =>
  stationView(day, 'run')
    ?.waves.flatMap((wave) => wave.runners)
    .find((one) => one.bib === bib)
const laps = (bib: string, ...elapsed: string[]) => all(...elapsed.map((one) => crosses('w1', bib, one)))
const running = (...bibs: string[]) =>
  given(opened(bibs.map((bib) => expected(bib))), ready(...bibs), at('10:00'), reads(24), gun('w1', bibs))

test('a double tap: one lap, the second tap kept as ignored', () => {
  running('112')
    .when(crosses('w1', '112', '2:01.0'))
    .then({ events: [{ type: 'crossingRecorded', elapsedMs: 121_000, ignored: null }] })
    .when(crosses('w1', '112', '2:01.4'))
    .then({ events: [{ type: 'crossingRecorded', elapsedMs: 121_400, ignored: 'underMinimumLap' }] })
    .and((day) => expect(runner(day, '112')).toMatchObject({ laps: 1, lapsToGo: 5 }))
})

const infers = (elapsedMs: number) =>
  tells('inferLap', wren, { observationId: 'i1', waveId: 'w1', studentId: 's113', elapsedMs, witnessId: 'bo' })

test('a missed lap: asked, withheld at the line, and counted once a person has put it in, labelled for ever', () => {
  const missed = running('113').when(laps('113', '1:58.0', '3:59.0', '8:04.0'))
  expect(runner(missed.day, '113')?.questions).toMatchObject([{ kind: 'possibleMissedCrossing', lapMs: 245_000 }])
  missed.when(laps('113', '10:06.0'), crosses('w1', '113', '12:09.0', 'finish')).then({
    events: ['crossingRecorded', { type: 'finishRecorded', laps: 5 }, { type: 'reviewOpened', because: 'lapsMissing' }],
  })
  expect(runner(missed.day, '113')).toMatchObject({ status: 'withheld', laps: 5 })
  expect(runOf(missed.day, '113')?.result).toMatchObject({ state: 'underReview', amount: null })
  missed.when(infers(362_000)).then({ events: ['lapInferred', { type: 'finishRecorded', laps: 6 }, 'reviewSettled'] })
  expect(runOf(missed.day, '113')?.result).toMatchObject({ says: '12:09', percentile: 50, notes: ['oneLapInferred'], state: 'provisional' })
})

test('a lap inferred behind the finish proves nothing', () => {
  const missed = running('113').when(laps('113', '1:58.0', '3:59.0', '8:04.0', '10:06.0'), crosses('w1', '113', '12:09.0', 'finish'))
  missed.when(infers(800_000)).then({ events: ['lapInferred'] })
  expect(runOf(missed.day, '113')?.result.amount).toBeNull()
})

test('the crossing that was missed arrives late from a twin tablet: the finish keeps its time', () => {
  const missed = running('113').when(laps('113', '1:58.0', '3:59.0', '8:04.0', '10:06.0'), crosses('w1', '113', '12:09.0', 'finish'))
  missed.when(crosses('w1', '113', '6:02.0', 'lap', bo)).then({
    events: ['crossingRecorded', { type: 'finishRecorded', elapsedMs: 729_000, laps: 6 }, 'reviewSettled'],
  })
  expect(runOf(missed.day, '113')?.result).toMatchObject({ says: '12:09', percentile: 50, notes: [] })
})

test('and where all came as laps, the last across the line is the finish whatever the order of arrival', () => {
  const late = running('113').when(laps('113', '2:00.0', '4:00.0', '8:00.0', '10:00.0', '12:00.0'))
  late
    .when(crosses('w1', '113', '6:00.0', 'lap', bo))
    .then({ events: ['crossingRecorded', { type: 'finishRecorded', elapsedMs: 720_000 }] })
})

const takesBack = (observationId: string, bib: string) =>
  tells('takeBackCrossing', wren, { observationId, waveId: 'w1', studentId: studentId(bib) } as never)
const lastTap = (day: Day, bib: string) => runner(day, bib)?.crossings.at(-1)?.observationId ?? ''

test('a touch on the wrong key is taken back: the tap stays in sight and is none of a lap', () => {
  const touched = running('112').when(laps('112', '2:00.0', '2:40.0'))
  touched.when(takesBack(lastTap(touched.day, '112'), '112')).then({ events: ['crossingTakenBack'] })
  expect(runner(touched.day, '112')).toMatchObject({ laps: 1, lapsToGo: 5, crossings: [{ ignored: null }, { ignored: 'takenBack' }] })
})

test('a finish touched in error is taken back: withheld, out there still, and the next crossing is the finish', () => {
  const six = ['2:00.0', '4:00.0', '6:00.0', '8:00.0', '10:00.0']
  const touched = running('112').when(laps('112', ...six), crosses('w1', '112', '11:00.0', 'finish'))
  touched.when(takesBack(lastTap(touched.day, '112'), '112')).then({
    events: ['crossingTakenBack', { type: 'finishRecorded', laps: 5 }, { type: 'reviewOpened', because: 'lapsMissing' }],
  })
  expect(runner(touched.day, '112')).toMatchObject({ status: 'running', laps: 5, finishMs: null })
  expect(runOf(touched.day, '112')?.result).toMatchObject({ state: 'underReview', amount: null })
  touched.when(crosses('w1', '112', '12:05.0', 'finish')).then({
    events: [{ type: 'crossingRecorded', ignored: null }, { type: 'finishRecorded', elapsedMs: 725_000, laps: 6 }, 'reviewSettled'],
  })
  expect(runner(touched.day, '112')).toMatchObject({ status: 'finished', finishMs: 725_000 })
  expect(runOf(touched.day, '112')?.result).toMatchObject({ says: '12:05', state: 'provisional' })
})

test('a second tablet at the line sees the same crossing, not another lap', () => {
  running('113')
    .when(laps('113', '2:00.0'), crosses('w1', '113', '2:00.6', 'lap', bo))
    .then({ events: [{ type: 'crossingRecorded', ignored: 'secondWitness' }] })
})

test('a collapse on lap 5: that one is blocked everywhere, the others run on, no lap is lost', () => {
  const stopped = running('115', '116')
    .when(laps('115', '2:00.0', '4:00.0', '6:00.0', '8:00.0'), stops('115', { at: '10:58:20' }))
    .then({
      events: [
        { type: 'studentStopped', reason: 'unwell' },
        { type: 'attemptInterrupted', by: 'medicalStop' },
      ],
    })
    .when(starts('115', 'sitAndReach', 'r1'))
    .then({ refused: 'stopped' })
    .when(crosses('w1', '116', '9:00.0'))
    .then({ events: [{ type: 'crossingRecorded', ignored: null }] })
  expect(safetyView(stopped.day).stops).toMatchObject([{ bib: '115', zone: 'Track', personId: 'bo', answers: [] }])
  expect(runOf(stopped.day, '115')?.result).toMatchObject({ state: 'interrupted', because: 'medicalStop', percentile: null })
  expect(runner(stopped.day, '115')).toMatchObject({ status: 'stopped', laps: 4 })
  expect(runner(stopped.day, '116')?.status).toBe('running')
  stopped
    .when(tells('answerStop', petra, { studentId: 's115', answer: 'arrived' }))
    .and((day) => expect(safetyView(day).stops[0]?.answers).toMatchObject([{ answer: 'arrived', personId: 'petra' }]))
    .when(crosses('w1', '115', '12:00.0', 'finish'))
    .then({ events: ['crossingRecorded', 'finishRecorded', { type: 'reviewOpened', because: 'stopped' }] })
})

test('however a run ends, the cool-down is due: nothing else starts, and the track is not empty until it is recorded', () => {
  const ended = running('112')
    .when(records('112', 'run', 'w1-112', null, { outcome: 'didNotFinish', fault: 'stoppedByChoice' }))
    .then({ events: ['resultRecorded'] })
    .when(starts('112', 'sitAndReach', 'r1'))
    .then({ refused: 'coolDownDue' })
    .when(tells('takeHeadcount', wren, { zoneId: 'track', present: [] }))
    .then({ events: [{ type: 'headcountTaken', missing: ['s112'] as never }] })
    .when(tells('signOffStudent', tomas, { studentId: 's112' }))
    .then({ refused: 'coolDownDue' })
    .when(tells('sealDay', tomas, { acceptOpenReviews: words }))
    .then({ refused: 'notFinished' })
  expect(inboxView(ended.day).items).toMatchObject([{ kind: 'coolDown', bib: '112' }])
  ended
    .when(coolsDown('112'), tries('112', 'sitAndReach', 'r1', reach(300)))
    .and((day) => expect(recordView(day, 's112')?.order).toEqual(['run', 'sitAndReach']))
    .when(coolsDown('112'))
    .then({ refused: 'coolDownNotDue' })
})

test('a run that somebody typed in without laps is kept and proves no lap', () => {
  given(opened([expected('112')]), ready('112'))
    .when(records('112', 'run', 'x1', { amount: 72_000, unit: 'hundredthsOfSecond', resolution: 1, method: 'hand' }))
    .then({ events: ['resultRecorded', { type: 'reviewOpened', because: 'noSuchAttempt' }] })
    .and((day) => expect(runOf(day, '112')?.result.amount).toBeNull())
    .when(starts('112', 'sitAndReach', 'r1', {}, {}, mira))
    .then({ refused: 'coolDownDue' })
})

test('a wave names each runner once', () => {
  given(opened([expected('112')]), ready('112'), at('10:00'), reads(24))
    .when(
      gun(
        'w1',
        [],
        {},
        {
          runners: [
            { studentId: 's112', attemptId: 'x1' },
            { studentId: 's112', attemptId: 'x2' },
          ],
        },
      ),
    )
    .then({ refused: 'runnerMayNotStart' })
})

test('a wave is refused whole, and says who may not start and why', () => {
  given(opened([expected('112'), expected('113')]), ready('112'), at('10:00'), reads(24))
    .when(gun('w1', ['112', '113']))
    .then({ refused: 'runnerMayNotStart', says: /s113: This student has not checked in/ })
    .and((day) => expect(day.waves.size).toBe(0))
})

test('a false start is called back at once: no try used, nobody in the wave, no cool-down due; after a crossing or a minute it is a run', () => {
  const recalls = (bib: string) => tells('releaseAttempt', wren, { attemptId: `w1-${bib}`, studentId: studentId(bib) })
  running('112', '116')
    .when(at('10:00:08'), recalls('112'))
    .then({ events: ['attemptReleased'] })
    .and((day) => {
      expect(runner(day, '112')).toBeUndefined()
      expect(stationView(day, 'run')?.students.find(({ bib }) => bib === '112')).toMatchObject({ triesUsed: 0 })
      expect(safetyView(day)).toMatchObject({ coolingDown: [], outdoors: [{ bib: '116' }] })
    })
    .when(crosses('w1', '116', '0:45.0'), recalls('116'))
    .then({ refused: 'notReleasable' })
  running('112').when(at('10:02'), recalls('112')).then({ refused: 'notReleasable' })
})
