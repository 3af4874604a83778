import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { Times } from '../day.ts'
import { clocksDisagree, elapsedSince } from './laps.ts'

/*
 * A tablet stands in a true time of its own making: its wall clock is off by `wall` (and is set by `jump` between gun and
 * finish), its steady clock began at `began`. What it tells is worked out from that, and what the day makes of it is held
 * against the true duration.
 */
interface Tablet {
  gunAt: number
  lasted: number
  wall: number
  jump: number
}
const tablet: fc.Arbitrary<Tablet> = fc.record({
  gunAt: fc.integer({ min: 1_800_000_000_000, max: 1_800_080_000_000 }),
  lasted: fc.integer({ min: 0, max: 3_600_000 }),
  wall: fc.integer({ min: -600_000, max: 600_000 }),
  jump: fc.oneof(fc.constant(0), fc.integer({ min: -600_000, max: 600_000 })),
})

const told = (trueAt: number, wall: number, offsetMs: number, began: number, steadyOf?: string): Times => ({
  occurredAt: trueAt + wall,
  offsetMs,
  bandMs: 0,
  steadyMs: trueAt - began,
  ...(steadyOf && { steadyOf }),
  deviceId: 'track-1' as Times['deviceId'],
  recordedAt: trueAt,
})

test('reloaded in mid-wave: measured at both ends, the time is right whatever was done to the wall clock, and a jump is asked about', () => {
  fc.assert(
    fc.property(tablet, fc.nat(3_600_000), ({ gunAt, lasted, wall, jump }, ago) => {
      const end = gunAt + lasted
      const gun = told(gunAt, wall, wall, gunAt - ago, 'first')
      const finish = told(end, wall + jump, wall + jump, end - ago / 2, 'second')
      expect(elapsedSince(gun, finish)).toBe(lasted)
      expect(clocksDisagree(gun, finish)).toBe(Math.abs(jump) > 1000)
    }),
  )
})

test('reloaded out of contact: the offset of before goes on, the wall clock alone says the time, and nothing is asked', () => {
  fc.assert(
    fc.property(tablet, fc.integer({ min: 0, max: 3_600_000 }), ({ gunAt, lasted, wall }, ago) => {
      const end = gunAt + lasted
      const gun = told(gunAt, wall, wall, gunAt - ago, 'first')
      const finish = told(end, wall, wall, end, 'second')
      expect(elapsedSince(gun, finish)).toBe(lasted)
      expect(clocksDisagree(gun, finish)).toBe(false)
    }),
  )
})

test('one steady clock, said or not said: it decides as it always did, and a wall clock that was set is asked about', () => {
  const saidOrNot = fc.constantFrom<[string | undefined, string | undefined]>(
    ['first', 'first'],
    [undefined, undefined],
    ['first', undefined],
    [undefined, 'first'],
  )
  fc.assert(
    fc.property(tablet, saidOrNot, ({ gunAt, lasted, wall, jump }, [one, other]) => {
      const began = gunAt - 5_000
      const gun = told(gunAt, wall, wall, began, one)
      // Set, and not measured since.
      const finish = told(gunAt + lasted, wall + jump, wall, began, other)
      expect(clocksDisagree(gun, finish)).toBe(Math.abs(jump) > 1000)
      expect(elapsedSince(gun, finish)).toBe(Math.abs(jump) > 1000 ? lasted + jump : lasted)
    }),
  )
})

test('older entries, which do not say whose steady clock it was: one that began anew still asks', () => {
  const gun = told(1_800_000_000_000, 0, 0, 1_799_999_000_000)
  const finish = told(1_800_000_725_000, 0, 0, 1_800_000_700_000)
  expect(elapsedSince(gun, finish)).toBe(725_000)
  expect(clocksDisagree(gun, finish)).toBe(true)
})
