import { expect, test } from 'vitest'
import { cautionsOf, type Told } from './device-cautions.ts'

const well: Told = {
  battery: { level: 0.8, charging: false, dischargingTime: 4 * 3_600 },
  storage: { usage: 10_000_000, quota: 1_000_000_000 },
  clocksPartedMs: 40,
}

test('a tablet that is well, is charged, or tells nothing of itself is quiet', () => {
  expect(cautionsOf(well)).toEqual([])
  expect(cautionsOf({ ...well, battery: { level: 0.05, charging: true, dischargingTime: Infinity } })).toEqual([])
  expect(cautionsOf({ battery: undefined, storage: undefined, clocksPartedMs: 0 })).toEqual([])
})

test('the battery is told by its level, and more than twenty minutes before it ends', () => {
  const battery = (level: number, dischargingTime: number) => cautionsOf({ ...well, battery: { level, charging: false, dischargingTime } })
  expect(battery(0.2, Infinity)).toEqual([{ kind: 'battery', percent: 20, minutesLeft: null }])
  expect(battery(0.35, 39 * 60)).toEqual([{ kind: 'battery', percent: 35, minutesLeft: 39 }])
  expect(battery(0.35, 45 * 60)).toEqual([])
})

test('storage that is nearly full and clocks that have parted are told', () => {
  expect(cautionsOf({ ...well, storage: { usage: 900, quota: 1_000 } })).toEqual([{ kind: 'storage' }])
  expect(cautionsOf({ ...well, clocksPartedMs: -4_200 })).toEqual([{ kind: 'clocks', seconds: 4 }])
})
