import { expect, test } from 'vitest'
import { openClock } from './clock.ts'
import { json } from './controls.ts'

/** A device whose wall clock is wrong by `wrongMs`, behind a network that takes `delays` there and back. */
function device({ wrongMs, delays, speed = 1 }: { wrongMs: number; delays: [there: number, back: number][]; speed?: number }) {
  let real = 1_000_000
  let request = 0
  const clock = openClock({
    samples: delays.length,
    wall: () => real + wrongMs,
    steady: () => real - 900_000,
    fetch: async () => {
      const [there, back] = delays[request++] ?? [0, 0]
      real += there
      const answer = json(200, { now: real * speed, speed })
      real += back
      return answer
    },
  })
  return { clock, pass: (ms: number) => (real += ms), real: () => real }
}

test('the offset is the device minus the site, right to within its band', async () => {
  const { clock, real } = device({ wrongMs: 7_000, delays: [[40, 40]] })
  expect(await clock.measure()).toBe(true)
  expect(clock.offsetMs.value).toBe(7_000)
  expect(clock.siteNow()).toBe(real())
})

test('the quickest answer counts, and a lopsided one stays inside the band', async () => {
  const { clock, real } = device({
    wrongMs: -3_000,
    delays: [
      [900, 10],
      [30, 2],
      [200, 200],
    ],
  })
  await clock.measure()
  const { offsetMs, bandMs } = clock.times()
  expect(Math.abs(offsetMs - -3_000)).toBeLessThanOrEqual(bandMs)
  expect(bandMs).toBeLessThanOrEqual(17)
  expect(Math.abs(clock.siteNow() - real())).toBeLessThanOrEqual(bandMs)
})

test('the clock of the device is told as it stood, never corrected', async () => {
  const { clock, real } = device({ wrongMs: 600_000, delays: [[5, 5]] })
  await clock.measure()
  expect(clock.times().occurredAt).toBe(real() + 600_000)
})

test('a rehearsal that runs faster carries its clock and its stopwatches with it', async () => {
  const { clock, pass } = device({ wrongMs: 0, delays: [[0, 0]], speed: 60 })
  await clock.measure()
  const [at, steady] = [clock.siteNow(), clock.steady()]
  pass(1_000)
  expect(clock.siteNow() - at).toBe(60_000)
  expect(clock.steady() - steady).toBe(60_000)
  expect(clock.times().offsetMs).toBe(0)
})

test('a clock that somebody set shows as a disagreement', async () => {
  let set = 0
  let real = 5_000
  const clock = openClock({ wall: () => real + set, steady: () => real, fetch: async () => json(200, { now: real, speed: 1 }) })
  await clock.measure()
  real += 10_000
  expect(clock.disagreementMs()).toBe(0)
  set = 3_600_000
  expect(clock.disagreementMs()).toBe(3_600_000)
})

test('a site that is not heard, or answers nonsense, is no measurement: the band says that nothing is known', async () => {
  const deaf = openClock({
    fetch: async () => {
      throw new TypeError('no network')
    },
  })
  expect(await deaf.measure()).toBe(false)
  expect(deaf.times().bandMs).toBe(86_400_000)
  const odd = openClock({ fetch: async () => json(200, { now: 'noon' }) })
  expect(await odd.measure()).toBe(false)
})
