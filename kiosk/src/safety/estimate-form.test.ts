import { navmedUsmc, tbmed507 } from '@musterbook/heat/published-tables'
import { demoPolicy, policyOf } from '@musterbook/heat/policies'
import { saysEstimate } from '@musterbook/heat/reading'
import { TakeReading } from '@musterbook/vocabulary/site'
import { expect, test } from 'vitest'
import { estimatedReading, nothingTyped, numberOf, workOut } from './estimate-form.ts'
import { paceRow } from './pace-row.ts'

const noon = Date.UTC(2027, 4, 11, 10)
const station = { air: '33,5', humidity: '55', wind: '1.2', irradiance: '850', latitude: '47.12', longitude: '13.25', pressure: '930' }
const ids = { readingId: 'reading-1', siteId: 'site-1', zoneId: 'track' }

test('what is told says by its method that it was estimated, how, and from what', () => {
  const worked = workOut('liljegren2008', station, noon)!
  const told = TakeReading.parse(estimatedReading(worked, ids, []))
  expect(told.wbgt && saysEstimate(told.wbgt)).toBe(true)
  expect(told.wbgt?.method).toBe('estimate: liljegren2008; 33.5C 55% 1.2m/s 850W/m2 930hPa 47.12N 13.25E')
  expect(told.instrumentId).toBe('estimated, Liljegren 2008')
  expect(worked.estimate.screeningOnly).toBe(false)
})

test('the longest inputs still fit into what a method may be', () => {
  const long = {
    air: '-12.5',
    humidity: '100',
    wind: '12.5',
    irradiance: '1200',
    latitude: '-47.12',
    longitude: '-113.25',
    pressure: '1013',
  }
  const worked = workOut('liljegren2008', long, noon)!
  expect(() => TakeReading.parse(estimatedReading(worked, ids, []))).not.toThrow()
})

test('the simplified method is the published formula and for screening only', () => {
  // Source: Australian Bureau of Meteorology, 0.567 Ta + 0.393 e + 3.94 with e = 6.105 exp(17.27 Ta / (237.7 + Ta)) RH / 100.
  const worked = workOut('simplified', { ...nothingTyped, air: '30', humidity: '50' }, noon)!
  expect(worked.estimate.wbgt.amount / 100).toBeCloseTo(0.567 * 30 + 0.393 * 21.174 + 3.94, 1)
  expect(worked.estimate.screeningOnly).toBe(true)
})

test('nothing is worked out from a missing or impossible value', () => {
  expect(workOut('liljegren2008', { ...station, wind: '' }, noon)).toBeUndefined()
  expect(workOut('liljegren2008', { ...station, humidity: '101' }, noon)).toBeUndefined()
  expect(numberOf('air', '3 1')).toBeUndefined()
  expect(numberOf('longitude', '−13,256')).toBe(-13.26)
})

test('only a policy on the table that the card belongs to has a row, and its coolest band has none', () => {
  const { bands: _, ...rules } = demoPolicy
  const adopted = policyOf(tbmed507, {
    ...rules,
    ...{ raise: { tenths: 880, included: true }, lift: { tenths: 880, included: false } },
  })
  // Source: TB MED 507 card: category 4, 20 minutes of hard work in the hour and a quart of water.
  const policy = { ...adopted, ...tbmed507 }
  expect(paceRow(policy, 'category 4 (red)').at(-1)).toEqual({
    work: 'hard',
    pace: { workRest: { workMinutes: 20, restMinutes: 40 }, waterQuarterQuartsPerHour: 4 },
  })
  expect(paceRow(policy, 'below category 1')).toEqual([])
  expect(paceRow({ ...policy, ...navmedUsmc }, 'green')).toEqual([])
  expect(paceRow(demoPolicy, '28.0 and above')).toEqual([])
})
