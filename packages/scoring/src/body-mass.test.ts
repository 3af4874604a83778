import fc from 'fast-check'
import { expect, test } from 'vitest'
import { fatMass, leanMass, massAtPercentFat, massQuestion } from './body-mass.ts'

test('lean and fat make the whole, and the target’s lean mass is the same', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 40, max: 150 }),
      fc.integer({ min: 3, max: 50 }),
      fc.integer({ min: 3, max: 50 }),
      (mass, fat, target) => {
        expect(leanMass(mass, fat) + fatMass(mass, fat)).toBeCloseTo(mass, 9)
        expect(leanMass(massAtPercentFat(mass, fat, target), target)).toBeCloseTo(leanMass(mass, fat), 9)
      },
    ),
  )
})

test('a mass outside the usual range, or far from an earlier one of the day, is asked about and nothing more', () => {
  expect(massQuestion(62_400)).toBeUndefined()
  expect(massQuestion(8_000)).toMatchObject({ kind: 'outsideUsualRange' })
  expect(massQuestion(62_400, 80_000)).toEqual({ kind: 'jump', earlierGrams: 80_000 })
  expect(massQuestion(79_500, 80_000)).toBeUndefined()
})
