import fc from 'fast-check'
import { expect, test } from 'vitest'
import { acsmRun, acsmRunMinutes, georgeRun } from './vo2max.ts'

test('the two directions of the ACSM equation undo each other, and faster is higher', () => {
  fc.assert(
    fc.property(fc.integer({ min: 420, max: 1500 }), (seconds) => {
      expect(60 * acsmRunMinutes(acsmRun(seconds / 60))).toBeCloseTo(seconds, 6)
      expect(acsmRun(seconds / 60)).toBeGreaterThan(acsmRun((seconds + 1) / 60))
    }),
  )
})

test('12 minutes are 43.75 by ACSM; George knows the sex', () => {
  expect(acsmRun(12)).toBe(43.75)
  expect(georgeRun(70, 12, 'M') - georgeRun(70, 12, 'W')).toBeCloseTo(3.716, 9)
})
