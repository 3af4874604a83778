import fc from 'fast-check'
import { expect, test } from 'vitest'
import { fatResult } from './fat-result.ts'
import { percentFat } from './percent-fat.ts'

const rules = { equation: 'jacksonPollock3', conversion: 'siri' } as const

test('a sum becomes tenths of a percent, once, with density and warnings in the working', () => {
  const result = fatResult(rules, 4 * 60, { sex: 'W', ageYears: 24 }, [])
  expect(result).toMatchObject({ state: 'scored', amount: 237, unit: 'tenthsOfPercentFat', warnings: [] })
  expect(result.working.map(({ step, gives }) => `${step} ${gives}`)).toEqual(['derived 1.0449 g/mL', 'rounded 23.7 %'])
})

test('a warning stands on the score, a refusal keeps the readings’ lines', () => {
  const reading = { step: 'read' as const, rule: 'thigh', from: 'o-1', gives: '26.0 mm', sources: ['o-1'] }
  expect(fatResult(rules, 4 * 60, { sex: 'W', ageYears: 60 }, [reading]).working.at(-1)).toMatchObject({
    step: 'warning',
    gives: 'outsideEquationAges',
  })
  const refused = fatResult(rules, 4 * 200, { sex: 'W', ageYears: 24 }, [reading])
  expect(refused).toMatchObject({ state: 'refused', why: 'sumPastEquation' })
  expect(refused.working[0]).toEqual(reading)
})

test('the tenth is the nearest to the unrounded percentage, and hundredths that were cut off give the same', () => {
  fc.assert(
    fc.property(
      fc.constantFrom('M' as const, 'W' as const),
      fc.integer({ min: 92, max: 600 }),
      fc.integer({ min: 18, max: 55 }),
      (sex, quarters, ageYears) => {
        const fat = percentFat('jacksonPollock3', 'siri', sex, quarters / 4, ageYears)
        const result = fatResult(rules, quarters, { sex, ageYears }, [])
        if (fat.state !== 'scored' || result.state !== 'scored') throw new Error('within the equation')
        expect(Math.abs(result.amount - 10 * fat.percentFat)).toBeLessThanOrEqual(0.5)
        expect(Math.floor((Math.floor(100 * fat.percentFat) + 5) / 10)).toBe(result.amount)
      },
    ),
    { numRuns: 3000 },
  )
})
