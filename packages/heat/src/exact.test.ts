import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { asNumber, compare, exact, exactDecimal, minus, plus, roundHalfUp, times } from './exact.ts'

const whole = fc.integer({ min: -1_000_000, max: 1_000_000 })
const parts = fc.integer({ min: 1, max: 1000 })

describe('exact numbers', () => {
  test.each([
    ['89.95', 10, 900],
    ['89.949999', 10, 899],
    ['-0.05', 10, 0],
    ['-0.051', 10, -1],
    ['-40', 10, -400],
    ['1e-7', 10_000_000, 1],
    ['2.5E1', 10, 250],
    ['.5', 10, undefined],
    ['12a', 10, undefined],
    ['', 10, undefined],
  ])('%s in 1/%i is %s', (text, of, rounded) => {
    if (rounded === undefined) expect(() => exactDecimal(text)).toThrow(RangeError)
    else expect(roundHalfUp(exactDecimal(text), of)).toBe(rounded)
  })

  test('rounds to the nearest, a half upward, on either side of zero', () => {
    fc.assert(
      fc.property(whole, parts, (top, bottom) => {
        const rounded = BigInt(roundHalfUp(exact(top, bottom), 10))
        const offTwice = 2n * (10n * BigInt(top) - rounded * BigInt(bottom))
        expect(offTwice >= -BigInt(bottom) && offTwice < BigInt(bottom)).toBe(true)
      }),
      { numRuns: 5000 },
    )
  })

  test('adds, takes away and multiplies as fractions do', () => {
    fc.assert(
      fc.property(whole, parts, whole, parts, (a, b, c, d) => {
        const [one, other] = [exact(a, b), exact(c, d)]
        expect(compare(minus(plus(one, other), other), one)).toBe(0)
        expect(compare(times(one, other), exact(BigInt(a) * BigInt(c), BigInt(b) * BigInt(d)))).toBe(0)
        expect(Math.sign(compare(one, other))).toBe(Math.sign(a * d - c * b))
        expect(asNumber(one)).toBeCloseTo(a / b, 9)
      }),
      { numRuns: 2000 },
    )
  })

  test('a ratio of nothing, or of what is no integer, is refused', () => {
    expect(() => exact(1, 0)).toThrow(RangeError)
    expect(() => exact(0.5)).toThrow(RangeError)
    expect(compare(exact(1, -2), exact(-1, 2))).toBe(0)
  })
})
