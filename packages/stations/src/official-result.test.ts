import fc from 'fast-check'
import { expect, test } from 'vitest'
import { demoProtocol, validTries } from './controls.ts'
import { officialResult } from './official-result.ts'
import type { ReadingUnit } from './units.ts'

const mass = (amount: number, unit: ReadingUnit = 'hundredthsKg') => ({ amount, unit, observationId: 'weigh-in' })

test('agility: the better of two, up to the next tenth, once', () => {
  expect(officialResult(demoProtocol('timed'), validTries('hundredthsOfSecond', 1893, 1861))).toMatchObject({
    amount: 187,
    unit: 'tenthsOfSecond',
  })
  expect(officialResult(demoProtocol('timed'), validTries('hundredthsOfSecond', 1870))).toMatchObject({ amount: 187 })
  expect(officialResult(demoProtocol('timed'), validTries('hundredthsOfSecond', 1871))).toMatchObject({ amount: 188 })
})

test('sit-and-reach: the best of three, as read', () => {
  expect(officialResult(demoProtocol('measured'), validTries('millimetres', 310, 335, 330))).toMatchObject({
    amount: 335,
    unit: 'millimetres',
  })
  expect(officialResult(demoProtocol('measured'), validTries('millimetres', -20))).toMatchObject({ amount: -20 })
})

test('run: up to the whole second, whatever unit was read', () => {
  expect(officialResult(demoProtocol('run'), validTries('tenthsOfSecond', 7854))).toMatchObject({ amount: 786, unit: 'wholeSeconds' })
  expect(officialResult(demoProtocol('run'), validTries('milliseconds', 785_001))).toMatchObject({ amount: 786 })
  expect(officialResult(demoProtocol('run'), validTries('milliseconds', 785_000))).toMatchObject({ amount: 785 })
})

test('bench: percent of the day’s body mass, halves up, from the readings themselves', () => {
  const bench = demoProtocol('loaded')
  expect(officialResult(bench, validTries('tenthsKg', 400, 450), mass(6240))).toMatchObject({ amount: 72, unit: 'percentOfBodyMass' })
  expect(officialResult(bench, validTries('tenthsKg', 875), mass(8000))).toMatchObject({ amount: 109 })
  expect(officialResult(bench, validTries('tenthsKg', 875), mass(7840))).toMatchObject({ amount: 112 })
  expect(officialResult(bench, validTries('tenthsKg', 580), mass(8000))).toMatchObject({ amount: 73 })
})

test('a bench without body mass waits, and no valid try is no result', () => {
  expect(officialResult(demoProtocol('loaded'), validTries('tenthsKg', 450))).toEqual({ missing: 'bodyMass' })
  expect(officialResult(demoProtocol('loaded'), [], mass(6240))).toEqual({ missing: 'validTry' })
})

test('the working leads from each try to the score and names rule, version and events', () => {
  const result = officialResult(demoProtocol('timed'), validTries('hundredthsOfSecond', 1893, 1861))
  expect('working' in result && result.working.map(({ step, gives }) => `${step} ${gives}`)).toEqual([
    'read 18.93 s',
    'read 18.61 s',
    'counts 18.61 s',
    'rounded 18.7 s',
  ])
  expect('working' in result && result.working.flatMap((line) => line.sources)).toEqual(['try-1', 'try-2', 'try-2'])
  expect('working' in result && result.working.at(-1)?.rule).toBe('up to the next 0.1 s, by agility version 1')
})

test('the same load and mass give the same percentage in any unit', () => {
  const bench = demoProtocol('loaded')
  fc.assert(
    fc.property(fc.integer({ min: 200, max: 3000 }), fc.integer({ min: 350, max: 2000 }), (tenths, massTenths) => {
      const inTenths = officialResult(bench, validTries('tenthsKg', tenths), mass(massTenths, 'tenthsKg'))
      const inGrams = officialResult(bench, validTries('grams', 100 * tenths), mass(10 * massTenths, 'hundredthsKg'))
      const inPounds = officialResult(bench, validTries('tenthsLb', tenths), mass(massTenths, 'tenthsLb'))
      expect('amount' in inGrams && inGrams.amount).toBe('amount' in inTenths && inTenths.amount)
      expect('amount' in inPounds && inPounds.amount).toBe('amount' in inTenths && inTenths.amount)
    }),
    { numRuns: 2000 },
  )
})

test('more load is never a lower score, more mass never a higher one', () => {
  const bench = demoProtocol('loaded')
  const percent = (load: number, massAmount: number) => {
    const result = officialResult(bench, validTries('tenthsKg', load), mass(massAmount, 'tenthsKg'))
    return 'amount' in result ? result.amount : NaN
  }
  fc.assert(
    fc.property(fc.integer({ min: 200, max: 3000 }), fc.integer({ min: 350, max: 2000 }), fc.nat(100), (load, massTenths, more) => {
      expect(percent(load + more, massTenths)).toBeGreaterThanOrEqual(percent(load, massTenths))
      expect(percent(load, massTenths + more)).toBeLessThanOrEqual(percent(load, massTenths))
    }),
  )
})
