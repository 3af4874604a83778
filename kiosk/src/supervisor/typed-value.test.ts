import { expect, test } from 'vitest'
import { typedAmount } from './typed-value.ts'

test('a typed value becomes whole units of the protocol, or nothing', () => {
  expect(typedAmount('16.9', 'hundredthsOfSecond')).toBe(1690)
  expect(typedAmount('12:09', 'tenthsOfSecond')).toBe(7290)
  expect(typedAmount('12:09,5', 'tenthsOfSecond')).toBe(7295)
  expect(typedAmount('-3.5', 'millimetres')).toBe(-35)
  expect(typedAmount('45', 'hundredthsKg')).toBe(4500)
  expect(typedAmount('16.95', 'tenthsOfSecond')).toBeUndefined()
  expect(typedAmount('1:30', 'millimetres')).toBeUndefined()
  expect(typedAmount('a bit', 'millimetres')).toBeUndefined()
})
