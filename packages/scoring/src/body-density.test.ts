import fc from 'fast-check'
import { expect, test } from 'vitest'
import { agesOf, bodyDensity, turningPointMm } from './body-density.ts'
import { brozek, percentFat, siri, sumLimitMm } from './percent-fat.ts'

test('the four turning points of the quadratic equations (Jackson & Pollock 1978, 1980)', () => {
  const turns = (['jacksonPollock3', 'jacksonPollock7'] as const).flatMap((equation) => [
    turningPointMm(equation, 'M'),
    turningPointMm(equation, 'W'),
  ])
  expect(turns.map((turn) => Math.round(turn ?? 0))).toEqual([258, 216, 395, 419])
  expect(turningPointMm('durninWomersley', 'M')).toBeNull()
})

test('one millimetre more in a sum of 60 at 25 is 0.28 percent fat in men and 0.33 in women', () => {
  const more = (sex: 'M' | 'W') => siri(bodyDensity('jacksonPollock3', sex, 60.5, 25)) - siri(bodyDensity('jacksonPollock3', sex, 59.5, 25))
  expect(more('M')).toBeCloseTo(0.28, 2)
  expect(more('W')).toBeCloseTo(0.33, 2)
})

test('Siri and Brozek cross between 16 and 17 percent', () => {
  const densityAt = (percent: number) => 495 / (percent + 450)
  expect(brozek(densityAt(8))).toBeCloseTo(8.6, 1)
  expect(brozek(densityAt(35))).toBeCloseTo(33.6, 1)
  expect(brozek(densityAt(16)) - 16).toBeGreaterThan(0)
  expect(brozek(densityAt(17)) - 17).toBeLessThan(0)
})

test('a sum past four fifths of the turning point is kept as readings and refused as a score', () => {
  const limit = sumLimitMm('jacksonPollock3', 'W') ?? NaN
  expect(percentFat('jacksonPollock3', 'siri', 'W', limit - 0.25, 24).state).toBe('scored')
  expect(percentFat('jacksonPollock3', 'siri', 'W', limit + 0.25, 24)).toMatchObject({ state: 'refused', why: 'sumPastEquation' })
  expect(percentFat('jacksonPollock3', 'siri', 'W', 0, 24)).toEqual({ state: 'refused', why: 'noSum' })
})

test('outside the ages, the usual sums or the likely percentages a score carries a warning, and nothing is clamped', () => {
  const warnings = (sex: 'M' | 'W', sumMm: number, age: number) => {
    const fat = percentFat('jacksonPollock3', 'siri', sex, sumMm, age)
    return fat.state === 'scored' && fat.warnings
  }
  expect(warnings('W', 60, 24)).toEqual([])
  expect([17, 18, 55, 56].map((age) => warnings('W', 60, age))).toEqual([['outsideEquationAges'], [], [], ['outsideEquationAges']])
  expect([17, 18, 61, 62].map((age) => warnings('M', 60, age))).toEqual([['outsideEquationAges'], [], [], ['outsideEquationAges']])
  expect(warnings('M', 128, 30)).toEqual(['outsideUsualSum'])
  expect(warnings('M', 7, 18)).toEqual(['outsideUsualSum', 'unusuallyLow'])
  expect(siri(1.1089)).toBeLessThan(0)
})

test('Durnin-Womersley jumps at a decade border and keeps its end rows outside its ages', () => {
  expect(bodyDensity('durninWomersley', 'M', 40, 29)).not.toBe(bodyDensity('durninWomersley', 'M', 40, 30))
  expect(bodyDensity('durninWomersley', 'M', 40, 16)).toBe(bodyDensity('durninWomersley', 'M', 40, 19))
  expect(bodyDensity('durninWomersley', 'W', 40, 75)).toBe(bodyDensity('durninWomersley', 'W', 40, 50))
  expect([agesOf('durninWomersley', 'M'), agesOf('durninWomersley', 'W')]).toEqual([
    { from: 17, to: 72 },
    { from: 16, to: 68 },
  ])
})

const equation = fc.constantFrom('jacksonPollock3' as const, 'jacksonPollock7' as const, 'durninWomersley' as const)
const sex = fc.constantFrom('M' as const, 'W' as const)
const conversion = fc.constantFrom('siri' as const, 'brozek' as const)

test('more fold is more fat, as far as a score is given', () => {
  fc.assert(
    fc.property(
      equation,
      conversion,
      sex,
      fc.integer({ min: 40, max: 1400 }),
      fc.integer({ min: 18, max: 60 }),
      (name, by, who, quarters, age) => {
        const one = percentFat(name, by, who, quarters / 4, age)
        const more = percentFat(name, by, who, (quarters + 1) / 4, age)
        if (one.state === 'scored' && more.state === 'scored') expect(more.percentFat).toBeGreaterThan(one.percentFat)
        if (one.state === 'refused') expect(more.state).toBe('refused')
      },
    ),
    { numRuns: 3000 },
  )
})
