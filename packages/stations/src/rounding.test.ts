import fc from 'fast-check'
import { expect, test } from 'vitest'
import { type Rounding, roundOnce, roundRatio } from './rounding.ts'

const rule = fc.constantFrom('up', 'down', 'nearest') as fc.Arbitrary<'up' | 'down' | 'nearest'>
const rounding = fc.record({ rule, to: fc.integer({ min: 1, max: 1000 }) })
const whole = fc.integer({ min: -1_000_000_000, max: 1_000_000_000 })

/** The same by unlimited whole numbers: floor, then look at what is left. */
function inBigNumbers(numerator: number, denominator: number, { rule, to }: Rounding): number {
  const step = BigInt(denominator) * BigInt(to)
  const top = BigInt(numerator)
  const below = top / step - (top % step < 0n ? 1n : 0n)
  const over = top - below * step
  const isUp = rule === 'up' ? over > 0n : rule === 'nearest' && 2n * over >= step
  return Number((below + (isUp ? 1n : 0n)) * BigInt(to))
}

test.each([
  [1861, { rule: 'up', to: 10 }, 1870],
  [1860, { rule: 'up', to: 10 }, 1860],
  [78_540, { rule: 'up', to: 100 }, 78_600],
  [78_599, { rule: 'down', to: 100 }, 78_500],
  [25, { rule: 'nearest', to: 10 }, 30],
  [24, { rule: 'nearest', to: 10 }, 20],
  [-25, { rule: 'nearest', to: 10 }, -20],
  [-21, { rule: 'up', to: 10 }, -20],
  [-21, { rule: 'down', to: 10 }, -30],
  [0, { rule: 'up', to: 10 }, 0],
  [17, { rule: 'none', to: 1 }, 17],
] as const)('%i by %j is %i', (amount, by, expected) => {
  expect(roundOnce(amount, by)).toBe(expected)
})

test('a fraction is never formed: 72.5 is a half, whatever its binary image', () => {
  expect(roundRatio(145, 2, { rule: 'nearest', to: 1 })).toBe(73)
  expect(roundRatio(144_999_999, 2_000_000, { rule: 'nearest', to: 1 })).toBe(72)
})

test('agrees with unlimited whole numbers', () => {
  fc.assert(
    fc.property(whole, fc.integer({ min: 1, max: 100_000 }), rounding, (numerator, denominator, by) => {
      expect(roundRatio(numerator, denominator, by)).toBe(inBigNumbers(numerator, denominator, by))
    }),
    { numRuns: 5000 },
  )
})

test('a larger value is never rounded to a smaller one', () => {
  fc.assert(
    fc.property(whole, fc.nat(1000), rounding, (amount, more, by) => {
      expect(roundOnce(amount + more, by)).toBeGreaterThanOrEqual(roundOnce(amount, by))
    }),
    { numRuns: 3000 },
  )
})

test('what was rounded stays where it is when it is rounded again', () => {
  fc.assert(fc.property(whole, rounding, (amount, by) => roundOnce(roundOnce(amount, by), by) === roundOnce(amount, by)))
})

test('hundredths to seconds by way of tenths is another number: that is why it happens once', () => {
  const straight = roundOnce(1245, { rule: 'nearest', to: 100 })
  const twice = roundOnce(roundOnce(1245, { rule: 'nearest', to: 10 }), { rule: 'nearest', to: 100 })
  expect([straight, twice]).toEqual([1200, 1300])
})

test('refuses what it cannot do exactly', () => {
  expect(() => roundRatio(1.5, 1, { rule: 'up', to: 1 })).toThrow(RangeError)
  expect(() => roundRatio(Number.MAX_SAFE_INTEGER, 1, { rule: 'up', to: 1 })).toThrow(RangeError)
  expect(() => roundRatio(1, 3, { rule: 'none', to: 1 })).toThrow(RangeError)
  expect(() => roundRatio(1, 0, { rule: 'up', to: 1 })).toThrow(RangeError)
})
