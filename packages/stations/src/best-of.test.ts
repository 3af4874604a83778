import { expect, test } from 'vitest'
import { bestOf, type ValidTry } from './best-of.ts'

const tries = (...amounts: number[]): ValidTry[] =>
  amounts.map((amount, index) => ({ attemptId: `try-${index + 1}`, amount, unit: 'millimetres' }))
const counted = (official: ReturnType<typeof bestOf>) => official?.counted.map((one) => one.attemptId)

test('the best counts, whichever way is better, and the first of equals', () => {
  expect(counted(bestOf(tries(310, 335, 335), { official: 'best', betterIs: 'higher' }))).toEqual(['try-2'])
  expect(counted(bestOf(tries(310, 335, 310), { official: 'best', betterIs: 'lower' }))).toEqual(['try-1'])
})

test('the last counts, or the mean of all, where the protocol says so', () => {
  expect(counted(bestOf(tries(335, 310), { official: 'last', betterIs: 'higher' }))).toEqual(['try-2'])
  expect(bestOf(tries(310, 335, 331), { official: 'mean', betterIs: 'higher' })).toMatchObject({ sum: 976_000, of: 3 })
})

test('pounds and kilograms on one bar are compared exactly', () => {
  const lifts: ValidTry[] = [
    { attemptId: 'kg', amount: 1000, unit: 'tenthsKg' },
    { attemptId: 'lb', amount: 2205, unit: 'tenthsLb' },
  ]
  expect(counted(bestOf(lifts, { official: 'best', betterIs: 'higher' }))).toEqual(['lb'])
})

test('no valid try, no value', () => {
  expect(bestOf([], { official: 'best', betterIs: 'lower' })).toBeUndefined()
})
