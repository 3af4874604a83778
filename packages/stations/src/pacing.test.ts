import { expect, test } from 'vitest'
import { isUneven, lastLapKick, largestDepartureFromEvenPace, secondMinusFirstHalf } from './pacing.ts'

test('even laps have nothing to say', () => {
  const even = [120, 120, 120, 120, 120, 120]
  expect([secondMinusFirstHalf(even), largestDepartureFromEvenPace(even), lastLapKick(even), isUneven(even)]).toEqual([0, 0, 0, false])
})

test('a fast start shows in halves, departure and the rule of thumb', () => {
  const laps = [104, 114, 121, 126, 128, 119]
  expect(secondMinusFirstHalf(laps)).toBe(34)
  expect(isUneven(laps)).toBe(true)
  expect(lastLapKick([112, 116, 119, 121, 120, 112])).toBeCloseTo(5.6, 9)
})

test('the middle of an odd number of laps belongs to neither half', () => {
  expect(secondMinusFirstHalf([100, 500, 130])).toBe(30)
})
