import fc from 'fast-check'
import { expect, test } from 'vitest'
import { portableLog, portableLog10 } from './portable-logarithm.ts'

test('agrees with the engine to its last bits', () => {
  fc.assert(
    fc.property(fc.double({ min: 1e-6, max: 1e6, noNaN: true }), (value) => {
      const scale = Math.max(1, Math.abs(Math.log(value)))
      expect(Math.abs(portableLog(value) - Math.log(value))).toBeLessThanOrEqual(1e-15 * scale)
      expect(Math.abs(portableLog10(value) - Math.log10(value))).toBeLessThanOrEqual(1e-15 * scale)
    }),
    { numRuns: 5000 },
  )
})

test('is exactly nothing at one, and refuses what has none', () => {
  expect(portableLog(1)).toBe(0)
  expect(() => portableLog(0)).toThrow(RangeError)
  expect(() => portableLog(-1)).toThrow(RangeError)
  expect(() => portableLog(Infinity)).toThrow(RangeError)
})
