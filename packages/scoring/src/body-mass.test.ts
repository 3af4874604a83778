import fc from 'fast-check'
import { expect, test } from 'vitest'
import { fatMass, leanMass, massAtPercentFat } from './body-mass.ts'

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
