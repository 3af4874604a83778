import { expect, test } from 'vitest'
import { demoProtocol } from './controls.ts'
import { shortTrackCorrection, trackCheck } from './track-check.ts'

const { distanceMm, toleranceMm } = demoProtocol('run').details

test('six laps of 400 m are 14 m short of a mile and a half', () => {
  expect(trackCheck({ lapMm: 400_000, laps: 6, startOffsetMm: 0 }, distanceMm, toleranceMm)).toEqual({
    isRight: false,
    runMm: 2_400_000,
    differenceMm: -14_016,
    neededStartOffsetMm: 14_016,
  })
})

test('with the start moved back they are right, and so is the quarter-mile track', () => {
  expect(trackCheck({ lapMm: 400_000, laps: 6, startOffsetMm: 14_000 }, distanceMm, toleranceMm).isRight).toBe(true)
  expect(trackCheck(demoProtocol('run').details.track, distanceMm, toleranceMm)).toMatchObject({ isRight: true, differenceMm: 0 })
  expect(trackCheck({ lapMm: 410_000, laps: 6, startOffsetMm: 0 }, distanceMm, toleranceMm).isRight).toBe(false)
})

test('the missing way is 0.584 percent of the time', () => {
  expect(shortTrackCorrection(100, 2400, 2414.016)).toBeCloseTo(0.584, 3)
  expect(shortTrackCorrection(720, 2414.016, 2414.016)).toBe(0)
})
