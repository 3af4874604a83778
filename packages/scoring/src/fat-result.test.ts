import { expect, test } from 'vitest'
import { fatResult } from './fat-result.ts'

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
