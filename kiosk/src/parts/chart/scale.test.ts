import { expect, test } from 'vitest'
import { scale, ticks } from './scale.ts'

test('a stretch of values lies straight on a stretch of the drawing', () => {
  const y = scale([20, 30], [300, 100])
  expect([y(20), y(25), y(30)]).toEqual([300, 200, 100])
  expect(scale([5, 5], [10, 90])(5)).toBe(10)
})

test('ticks are round and enclose the values', () => {
  expect(ticks(24.3, 31.2, 5)).toEqual([24, 26, 28, 30, 32])
  expect(ticks(0, 0.4, 4)).toEqual([0, 0.1, 0.2, 0.3, 0.4])
  expect(ticks(7, 7, 5).length).toBeGreaterThan(1)
})
