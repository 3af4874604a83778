import fc from 'fast-check'
import { expect, test } from 'vitest'
import { demoProtocol } from './controls.ts'
import { doubleTapIndex, dueNext, missedCrossingIndex, predictedCrossingMs, readRun, type Tap } from './laps.ts'

const rules = demoProtocol('run').details

/** '3:59' as a tap, named by its time. */
function tap(time: string, more: Partial<Tap> = {}): Tap {
  const [minutes = 0, seconds = 0] = time.split(':').map(Number)
  return { tapId: time, elapsedMs: Math.round((60 * minutes + seconds) * 1000), ...more }
}
const taps = (...times: string[]) => times.map((time) => tap(time))

test('a second tap under the minimum is kept, shown and not counted', () => {
  const reading = readRun(taps('2:01.0', '2:01.4'), null, rules)
  expect(reading.crossings).toHaveLength(1)
  expect(reading.ignored).toEqual([{ tapId: '2:01.4', elapsedMs: 121_400, why: 'underMinimumLap' }])
  expect(reading.lapsToGo).toBe(5)
})

test('exactly the minimum counts and is asked about; a first tap under it does not', () => {
  expect(readRun(taps('2:00', '2:30'), null, rules)).toMatchObject({
    crossings: [{}, {}],
    questions: [{ kind: 'possibleDoubleTap', key: 'double:2:30' }],
  })
  expect(readRun(taps('0:29.9'), null, rules).crossings).toEqual([])
})

test('a doubled interval asks at its third reading, and says the runner’s own pace', () => {
  expect(readRun(taps('1:58', '3:59'), null, rules).questions).toEqual([])
  expect(readRun(taps('1:58', '3:59', '8:04'), null, rules).questions).toEqual([
    { kind: 'possibleMissedCrossing', key: 'missed:8:04', lap: 3, lapMs: 245_000, ownPaceMs: 119_500, proposedAtMs: null },
  ])
})

test('from the fourth it proposes where, and never puts a lap there itself', () => {
  const reading = readRun(taps('1:58', '3:59', '8:04', '10:06'), null, rules)
  expect(reading.questions).toMatchObject([{ key: 'missed:8:04', proposedAtMs: 361_500 }])
  expect(reading.crossings).toHaveLength(4)
})

test('five laps at the finish: withheld, until a person infers the sixth; the finish time stands', () => {
  const run = taps('1:58', '3:59', '8:04', '10:06')
  expect(readRun(run, tap('12:09'), rules)).toMatchObject({ crossings: { length: 5 }, lapsToGo: 1, outcome: { state: 'withheld' } })
  const settled = readRun([...run, tap('6:02', { inferred: true })], tap('12:09'), rules)
  expect(settled.outcome).toEqual({ state: 'finished', elapsedMs: 729_000, inferredLaps: 1, extraCrossings: 0 })
  expect(settled.questions).toEqual([])
})

test('six taps are taken as a finish, and an inferred lap moves it to the sixth crossing', () => {
  const run = taps('2:00', '4:01', '8:06', '10:10', '12:12', '14:22')
  expect(readRun(run, null, rules).outcome).toEqual({ state: 'finished', elapsedMs: 862_000, inferredLaps: 0, extraCrossings: 0 })
  expect(readRun([...run, tap('6:03', { inferred: true })], null, rules).outcome).toEqual({
    state: 'finished',
    elapsedMs: 732_000,
    inferredLaps: 1,
    extraCrossings: 1,
  })
})

test('a finish after a seventh crossing is not explained away', () => {
  const reading = readRun(taps('2:00', '4:00', '6:00', '8:00', '10:00', '12:00'), tap('14:00'), rules)
  expect(reading.outcome).toEqual({ state: 'withheld' })
  expect(reading.questions).toContainEqual({ kind: 'finishDisagreesWithLaps', key: 'finish:14:00', lapsCounted: 7 })
})

test('a lap tapped as the runner finished is the finish', () => {
  const reading = readRun(taps('2:00', '4:00', '6:00', '8:00', '10:00', '11:59.2'), tap('12:00'), rules)
  expect(reading.outcome).toMatchObject({ state: 'finished', elapsedMs: 720_000 })
  expect(reading.ignored).toMatchObject([{ tapId: '11:59.2', why: 'sameCrossingAsFinish' }])
})

test('a runner who slows is not asked about', () => {
  expect(readRun(taps('1:40', '3:30', '5:35', '7:55', '10:25', '12:25'), null, rules).questions).toEqual([])
})

test('who is due next stands first, who has finished last', () => {
  const runner = (name: string, ...times: string[]) => ({ name, reading: readRun(taps(...times), null, rules) })
  const pad = dueNext(
    [
      runner('done', '1:50', '3:40', '5:30', '7:20', '9:10', '11:00'),
      runner('slow', '2:30'),
      runner('none'),
      runner('quick', '1:50', '3:40'),
    ],
    130_000,
  )
  expect(pad.map((one) => one.name)).toEqual(['none', 'slow', 'quick', 'done'])
  expect(predictedCrossingMs(readRun(taps('1:50', '3:40'), null, rules), 130_000)).toBe(330_000)
})

test('indexes against the median, with both bounds belonging to the question', () => {
  expect(missedCrossingIndex([100, 100, 170])).toBe(2)
  expect(missedCrossingIndex([100, 100, 169.9])).toBeNull()
  expect(missedCrossingIndex([230, 100, 100])).toBe(0)
  expect(missedCrossingIndex([231, 100, 100])).toBeNull()
  expect(doubleTapIndex([100, 60, 100])).toBeNull()
  expect(doubleTapIndex([100, 59.9, 100])).toBe(1)
  expect(missedCrossingIndex([])).toBeNull()
})

const anyTaps = fc
  .uniqueArray(fc.integer({ min: 0, max: 1_500_000 }), { maxLength: 20 })
  .map((times) => times.map((elapsedMs, index): Tap => ({ tapId: `t${index}`, elapsedMs })))

test('no tap is lost: each counts or is set aside, in whatever order they came', () => {
  fc.assert(
    fc.property(anyTaps, fc.nat(), (all, stir) => {
      const reading = readRun(all, null, rules)
      expect(reading.crossings.length + reading.ignored.length).toBe(all.length)
      const shuffled = [...all].sort((a, b) => ((a.elapsedMs * 7919 + stir) % 104_729) - ((b.elapsedMs * 7919 + stir) % 104_729))
      expect(readRun(shuffled, null, rules)).toEqual(reading)
    }),
  )
})

test('counted crossings are never closer than the minimum, and laps add up to the last crossing', () => {
  fc.assert(
    fc.property(anyTaps, (all) => {
      const { crossings } = readRun(all, null, rules)
      expect(crossings.every((crossing) => crossing.lapMs >= rules.minimumLapMs)).toBe(true)
      expect(crossings.reduce((sum, crossing) => sum + crossing.lapMs, 0)).toBe(crossings.at(-1)?.elapsedMs ?? 0)
    }),
  )
})

test('a run counts as finished only with as many crossings as laps', () => {
  fc.assert(
    fc.property(anyTaps, fc.option(fc.integer({ min: 400_000, max: 1_500_000 })), (all, finishMs) => {
      const finish = finishMs === null ? null : { tapId: 'finish', elapsedMs: finishMs }
      const { outcome, crossings } = readRun(all, finish, rules)
      if (outcome.state !== 'finished') return
      expect(crossings.length).toBeGreaterThanOrEqual(6)
      if (finish) expect(outcome.elapsedMs).toBe(finishMs)
    }),
  )
})
