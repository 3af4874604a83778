import fc from 'fast-check'
import { expect, test } from 'vitest'
import { estimateNames, machineEquivalentLb, oneRepMax, portableEstimates } from './one-rep-max.ts'

test('one repetition is the maximum by every name', () => {
  expect(estimateNames.map((name) => oneRepMax(name, 100, 1))).toEqual(estimateNames.map(() => 100))
})

test('Epley and Brzycki meet at ten', () => {
  expect(oneRepMax('epley', 225, 10)).toBeCloseTo(oneRepMax('brzycki', 225, 10), 9)
})

test('each rises with load and with repetitions up to ten, and does not know its unit', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...estimateNames),
      fc.integer({ min: 20, max: 250 }),
      fc.integer({ min: 2, max: 9 }),
      (name, load, reps) => {
        expect(oneRepMax(name, load, reps + 1)).toBeGreaterThan(oneRepMax(name, load, reps))
        expect(oneRepMax(name, load + 1, reps)).toBeGreaterThan(oneRepMax(name, load, reps))
        expect(oneRepMax(name, 2.20462 * load, reps)).toBeCloseTo(2.20462 * oneRepMax(name, load, reps), 6)
      },
    ),
  )
})

test('refuses repetitions that are none, parts, or past the formula', () => {
  expect(() => oneRepMax('epley', 100, 0)).toThrow(RangeError)
  expect(() => oneRepMax('epley', 100, 2.5)).toThrow(RangeError)
  expect(() => oneRepMax('brzycki', 100, 37)).toThrow(RangeError)
})

test('the conversion to a machine names its sex', () => {
  expect(machineEquivalentLb(100, 'W')).toBeCloseTo(106.17, 9)
})

test('up to ten repetitions the lowest estimate needs no exponential', () => {
  const lowest = (names: readonly (typeof estimateNames)[number][], reps: number) =>
    Math.min(...names.map((name) => oneRepMax(name, 100, reps)))
  for (let reps = 1; reps <= 10; reps += 1) expect(lowest(portableEstimates, reps)).toBe(lowest(estimateNames, reps))
})
