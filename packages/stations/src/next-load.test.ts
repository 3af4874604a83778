import fc from 'fast-check'
import { expect, test } from 'vitest'
import { demoProtocol } from './controls.ts'
import { type Effort, loadableDown, nextLoad } from './next-load.ts'

const rules = demoProtocol('loaded').details
const good = (load: number, reps = 1): Effort => ({ load, reps, isGood: true })
const failed = (load: number): Effort => ({ load, reps: 1, isGood: false })

test('the first load by body mass, down to what the plates allow; without body mass there is none', () => {
  expect(nextLoad([], rules, 'M', 800)).toMatchObject({ propose: 525, why: 'firstLoad' })
  expect(nextLoad([], rules, 'W', 624)).toMatchObject({ propose: 300 })
  expect(nextLoad([], rules, 'W', 300)).toMatchObject({ propose: 200 })
  expect(nextLoad([], rules, 'M', null)).toEqual({ unknown: 'bodyMass' })
})

test('a tenth more after a good lift, and never above the lowest published estimate of a set', () => {
  expect(nextLoad([good(800)], rules, 'M', 800)).toMatchObject({ propose: 875, why: 'afterGood', estimate: null })
  expect(nextLoad([good(800, 2)], rules, 'M', 800)).toMatchObject({ propose: 825 })
})

test('smaller steps after a failure, between what went and what did not', () => {
  expect(nextLoad([good(800), failed(875)], rules, 'M', 800)).toMatchObject({ propose: 850, why: 'betweenGoodAndFailed' })
  expect(nextLoad([good(800), failed(875), good(850)], rules, 'M', 800)).toEqual({ found: 850 })
  expect(nextLoad([good(950), failed(1050), good(1000)], rules, 'M', 800)).toMatchObject({ propose: 1025 })
  expect(nextLoad([good(600), failed(700), good(625)], rules, 'M', 800)).toMatchObject({ propose: 650 })
})

test('nothing lifted yet goes down, and the empty bar is the end of it', () => {
  expect(nextLoad([failed(500)], rules, 'M', 800)).toMatchObject({ propose: 475, why: 'afterFailed' })
  expect(nextLoad([failed(200)], rules, 'M', 800)).toEqual({ found: null })
})

test('plates round down: 83.9 kg is 82.5 on a 20-kg bar', () => {
  expect(loadableDown(839, 200, 25)).toBe(825)
  expect(loadableDown(825, 200, 25)).toBe(825)
  expect(loadableDown(150, 200, 25)).toBe(200)
})

test('what is proposed can be loaded, is more than the best lift or less than it failed, and is never what has failed', () => {
  const effort = fc.record({
    load: fc.integer({ min: 0, max: 80 }).map((steps) => 200 + 25 * steps),
    reps: fc.integer({ min: 1, max: 10 }),
    isGood: fc.boolean(),
  })
  fc.assert(
    fc.property(fc.array(effort, { minLength: 1, maxLength: 6 }), (efforts) => {
      const next = nextLoad(efforts, rules, 'M', 800)
      if (!('propose' in next)) return
      const best = Math.max(0, ...efforts.filter((one) => one.isGood).map((one) => one.load))
      const lightestFailed = Math.min(...efforts.filter((one) => !one.isGood).map((one) => one.load))
      expect((next.propose - 200) % 25).toBe(0)
      expect(next.propose).toBeGreaterThanOrEqual(200)
      expect(next.propose).toBeGreaterThan(best)
      expect(next.propose).toBeLessThan(lightestFailed)
    }),
    { numRuns: 3000 },
  )
})
