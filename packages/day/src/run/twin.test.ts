import { expect, test } from 'vitest'
import { all, at, bo, crosses, expected, gun, opened, reads, ready, studentId, tells, tomas, words, wren } from '../controls.ts'
import type { Day } from '../day.ts'
import { given } from '../given.ts'
import { recordView } from '../views/record.ts'
import { stationView } from '../views/station.ts'

/*
 * E14: TRACK-1 starts a wave and dies; TRACK-2, with Bo, carries it on. What TRACK-1 still keeps is told when it is alive again.
 */

const wave = (day: Day) => stationView(day, 'run')!.waves[0]!
const runOf = (day: Day, bib: string) => recordView(day, studentId(bib))?.stations.find(({ stationId }) => stationId === 'run')?.result
const takesOver = tells('takeOverWave', bo, { waveId: 'w1' })
/** Two laps by the gun's tablet, the rest by its twin. */
const takenOver = () =>
  given(opened([expected('112')]), ready('112'), at('10:00'), reads(24), gun('w1', ['112'])).when(
    crosses('w1', '112', '2:00.0'),
    takesOver,
    ...['4:00.0', '6:00.0', '8:00.0', '10:00.0'].map((lap) => crosses('w1', '112', lap, 'lap', bo)),
  )
const endsAt = (time: string) => crosses('w1', '112', time, 'finish', bo)

test('a second tablet carries on: the same gun, the same laps, and it is said who has the wave', () => {
  const { day } = takenOver()
  expect(wave(day)).toMatchObject({ gunAt: day.waves.get('w1' as never)!.gun.occurredAt, open: true })
  expect(wave(day).carriedBy).toMatchObject({ deviceId: bo.deviceId, personId: 'bo', takenOver: true })
  expect(wave(day).runners).toMatchObject([{ laps: 5, lapsToGo: 1 }])
})

test('late taps of the dead tablet pair with the laps of its twin: second witnesses, no second laps, the result stands', () => {
  const late = ['4:00.7', '6:01.2', '7:58.9', '10:00.4'].map((lap) => crosses('w1', '112', lap))
  const ended = takenOver().when(endsAt('12:05.0'), ...late)
  expect(
    wave(ended.day)
      .runners[0]!.crossings.map(({ ignored }) => ignored)
      .filter(Boolean),
  ).toEqual(Array(4).fill('secondWitness'))
  expect(runOf(ended.day, '112')).toMatchObject({ says: '12:05', state: 'provisional' })
})

test('a late tap that only the dead tablet saw fills the lap that its twin lacks', () => {
  given(opened([expected('112')]), ready('112'), at('10:00'), reads(24), gun('w1', ['112']))
    .when(takesOver, all(...['4:00.0', '6:00.0', '8:00.0', '10:00.0'].map((lap) => crosses('w1', '112', lap, 'lap', bo))))
    .when(crosses('w1', '112', '2:00.0'))
    .then({ events: [{ type: 'crossingRecorded', ignored: null }] })
    .and((day) => expect(wave(day).runners).toMatchObject([{ laps: 5 }]))
})

test('a late tap that pairs with no lap and has no room for one counts as none: a person decides', () => {
  const asked = takenOver().when(crosses('w1', '112', '6:55.0'))
  asked.then({
    events: [
      { type: 'crossingRecorded', ignored: 'unpaired' },
      { type: 'reviewOpened', because: 'crossingUnpaired' },
    ],
  })
  expect(wave(asked.day).runners).toMatchObject([{ laps: 5, lapsToGo: 1 }])
  asked.when(endsAt('12:05.0'))
  expect(runOf(asked.day, '112')).toMatchObject({ state: 'underReview' })
  const [reviewId] = [...asked.day.reviews.keys()]
  asked.when(tells('rule', tomas, { reviewId, ruling: 'doesNotCount', reason: words }))
  expect(runOf(asked.day, '112')).toMatchObject({ says: '12:05', state: 'provisional' })
})

test('what a scorer taps first hand is not late: two scorers at one line never open a review', () => {
  takenOver()
    .when(crosses('w1', '112', '11:58.0', 'lap', bo), crosses('w1', '112', '11:58.4', 'lap'))
    .and((day) => expect(day.reviews.size).toBe(0))
})

test('a takeover that is told late does not take the wave back', () => {
  const { day } = takenOver().when(tells('takeOverWave', tomas, { waveId: 'w1' }, { at: '10:01' }))
  expect(wave(day).carriedBy.deviceId).toBe(bo.deviceId)
})

/** A tablet that slept between the gun and the finish at 12:05, with these laps before it. */
const slept = (...laps: string[]) =>
  given(opened([expected('112')]), ready('112'), at('10:00'), reads(24), gun('w1', ['112'], { steadyMs: 1_000 })).when(
    ...laps.map((lap) => crosses('w1', '112', lap)),
    at('10:12:05'),
    tells('recordCrossing', wren, { observationId: 'end', waveId: 'w1', studentId: 's112', line: 'finish' }, { steadyMs: 600_000 }),
  )

test('one tablet whose clocks disagree about the run: the wall clock says the time, and the result waits', () => {
  const ended = slept('2:00.0', '4:00.0', '6:00.0', '8:00.0', '10:00.0')
  ended.then({
    events: [
      { type: 'crossingRecorded', elapsedMs: 724_000 },
      { type: 'finishRecorded', laps: 6 },
      { type: 'reviewOpened', because: 'clocksDisagree' },
    ],
  })
  expect(runOf(ended.day, '112')).toMatchObject({ state: 'underReview' })
})

test('a lap is missing too: putting it in answers that question and not the one about the clocks', () => {
  const ended = slept('2:00.0', '4:00.0', '8:00.0', '10:00.0')
  ended.then({
    events: [
      { type: 'crossingRecorded' },
      { type: 'finishRecorded', laps: 5 },
      { type: 'reviewOpened', because: 'lapsMissing' },
      { type: 'reviewOpened', because: 'clocksDisagree' },
    ],
  })
  const [, clocks] = [...ended.day.reviews.keys()]
  ended.when(tells('inferLap', wren, { observationId: 'i1', waveId: 'w1', studentId: 's112', elapsedMs: 360_000, witnessId: 'bo' }))
  expect(runOf(ended.day, '112')).toMatchObject({ state: 'underReview' })
  ended.when(tells('rule', tomas, { reviewId: clocks, ruling: 'counts', reason: words }))
  expect(runOf(ended.day, '112')).toMatchObject({ says: '12:04', state: 'provisional', notes: ['oneLapInferred', 'countsByRuling'] })
})

test('a tablet that began anew in mid-wave: no finish is asked about, and the working says by which clock', () => {
  const bibs = ['112', '113', '114']
  const crossesAnew = (bib: string, time: string, line: 'lap' | 'finish') =>
    all(
      at(time),
      tells(
        'recordCrossing',
        wren,
        { observationId: `anew-${bib}-${time}`, waveId: 'w1', studentId: studentId(bib), line },
        { steadyMs: 4_000, steadyOf: 'second', bandMs: 40 },
      ),
    )
  const laps = ['10:02:00', '10:04:00', '10:06:00', '10:08:00', '10:10:00']
  const { day } = given(
    opened(bibs.map((bib) => expected(bib))),
    ready(...bibs),
    at('10:00'),
    reads(24),
    gun('w1', bibs, { at: '10:00:00', steadyMs: 9_000_000, steadyOf: 'first', bandMs: 25 }),
  ).when(...bibs.flatMap((bib) => [...laps.map((lap) => crossesAnew(bib, lap, 'lap')), crossesAnew(bib, '10:12:05', 'finish')]))
  expect(day.reviews.size).toBe(0)
  for (const bib of bibs) {
    expect(runOf(day, bib)).toMatchObject({ says: '12:05', state: 'provisional', notes: [] })
    expect(runOf(day, bib)?.working[0]).toMatchObject({
      rule: "timed by the tablet's wall clock, as its steady clock began anew between gun and finish",
      from: 'offset 0 ± 25 ms at the gun, 0 ± 40 ms at the finish',
      gives: '12:05.000',
      sources: [`anew-${bib}-10:12:05`],
    })
  }
})

test('laps that were typed in from a sheet say so on the result', () => {
  const row = ['10:02:00', '10:04:00', '10:06:00', '10:08:00', '10:10:00', '10:12:05']
  const fromPaper = { sheet: '0511-5-1', writerId: 'mira' }
  const typed = given(opened([expected('112')]), ready('112'), at('10:00'), reads(24), gun('w1', ['112'], { at: '10:00:00' })).when(
    at('11:00'),
    ...row.map((clock, index) => {
      const line = index === row.length - 1 ? 'finish' : 'lap'
      const body = { observationId: `p${index}`, waveId: 'w1', studentId: 's112', line, fromPaper }
      return tells('recordCrossing', wren, body, { at: clock, decidedOnDevice: true })
    }),
  )
  expect(runOf(typed.day, '112')).toMatchObject({ says: '12:05', notes: ['fromPaper'] })
})
