import { expect, test } from 'vitest'
import { askAbout, isImpossible, takeReading, valuesAsked, type How } from './reading-form.ts'

const how: How = {
  shown: true,
  zoneId: 'track',
  instrumentId: 'W-1',
  unit: 'degC',
  sun: true,
  wetBulbKind: 'natural',
  globeDiameterMm: 150,
  settled: true,
  settledEarly: false,
}
const ids = { readingId: 'r1', siteId: 'skarnvale' }

test('a value stands in the unit that the instrument reads in, to the tenth that was read', () => {
  expect(takeReading(how, { wbgt: 271 }, ids, []).wbgt).toEqual({ amount: 271, unit: 'tenthsDegC', resolution: 1, method: 'instrument' })
  expect(takeReading({ ...how, unit: 'degF' }, { wbgt: 808 }, ids, []).wbgt?.unit).toBe('tenthsDegF')
})

test('what cannot be is asked about and named impossible: Fahrenheit typed where the meter reads Celsius', () => {
  const told = takeReading(how, { wbgt: 820 }, ids, [])
  expect(askAbout(told, undefined)).toContain('wbgtOutsideSensor')
  expect(isImpossible(told)).toBe(true)
})

test('three thermometers are asked for one by one, and held against each other', () => {
  const bulbs = { ...how, shown: false }
  expect(valuesAsked(bulbs)).toEqual(['naturalWetBulb', 'globe', 'dryBulb'])
  expect(askAbout(takeReading(bulbs, { naturalWetBulb: 200, globe: 350, dryBulb: 250 }, ids, []), undefined)).toEqual([])
  expect(askAbout(takeReading(bulbs, { naturalWetBulb: 260, globe: 350, dryBulb: 250 }, ids, []), undefined)).toEqual([
    'wetBulbAboveDryBulb',
  ])
})

test('whether it has settled is said beside the reading, never asked', () => {
  expect(askAbout(takeReading({ ...how, settled: false }, { wbgt: 271 }, ids, []), undefined)).toEqual([])
})

test('said settled before the instrument had stood long enough: that goes with the reading', () => {
  expect(takeReading({ ...how, settledEarly: true }, { wbgt: 271 }, ids, ['looksLikeTheOtherUnit']).confirmed).toEqual([
    'looksLikeTheOtherUnit',
    'settledEarly',
  ])
  expect(takeReading(how, { wbgt: 271 }, ids, []).confirmed).toEqual([])
})
