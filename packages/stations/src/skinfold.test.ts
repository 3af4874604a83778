import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { RepeatRule } from './protocol.ts'
import { circuit, type FoldReading, needsThird, siteValue, sitesOf } from './skinfold.ts'

const nsca: RepeatRule = { name: 'nsca' }
const acsm: RepeatRule = { name: 'acsm', limitMm: 1 }
const isak: RepeatRule = { name: 'isak' }

test.each([
  [nsca, 24, 26, false],
  [nsca, 24, 28, true],
  [nsca, 20, 22, false],
  [nsca, 22, 20, false],
  [nsca, 20, 23, true],
  [acsm, 24, 26, false],
  [acsm, 24, 27, true],
  [{ name: 'acsm', limitMm: 2 } as RepeatRule, 24, 28, false],
  [isak, 40, 42, false],
  [isak, 40, 43, true],
  [isak, 20, 22, true],
])('%j: %i and %i half-millimetres need a third: %s', (rule, first, second, third) => {
  expect(needsThird(rule, first, second)).toBe(third)
  expect(needsThird(rule, second, first)).toBe(third)
})

test('the average of two to the half-millimetre by one rule, untouched by the others, the median of three by the third', () => {
  expect(siteValue(nsca, [24, 25])).toMatchObject({ quarterMillimetres: 50 })
  expect(siteValue(acsm, [24, 25])).toMatchObject({ quarterMillimetres: 49 })
  expect(siteValue(isak, [40, 41])).toMatchObject({ quarterMillimetres: 81 })
  expect(siteValue(isak, [40, 50, 44])).toMatchObject({ quarterMillimetres: 88 })
})

test('more readings until two agree; then the closest two', () => {
  expect(siteValue(nsca, [20])).toEqual({ state: 'needsAnother' })
  expect(siteValue(nsca, [20, 30])).toEqual({ state: 'needsAnother' })
  expect(siteValue(nsca, [20, 30, 25])).toEqual({ state: 'needsAnother' })
  expect(siteValue(nsca, [20, 30, 25, 26])).toMatchObject({ state: 'settled', quarterMillimetres: 52 })
})

const read = (site: FoldReading['site'], halfMillimetres: number): FoldReading => ({
  observationId: `${site}-${halfMillimetres}`,
  site,
  halfMillimetres,
})

test('all sites once, then all again, then what still differs', () => {
  const sites = sitesOf('jacksonPollock3', 'W')
  const readings: FoldReading[] = []
  const asked: string[] = []
  const given = [36, 32, 52, 37, 40, 52, 33]
  for (const value of given) {
    const place = circuit(sites, nsca, readings)
    if (place.state !== 'reading') break
    asked.push(`${place.next} ${place.reading}`)
    readings.push(read(place.next, value))
  }
  expect(asked).toEqual(['triceps 1', 'suprailiac 1', 'thigh 1', 'triceps 2', 'suprailiac 2', 'thigh 2', 'suprailiac 3'])
  expect(circuit(sites, nsca, readings)).toMatchObject({ state: 'complete', sumQuarterMillimetres: 74 + 66 + 104 })
})

test('the working names every reading behind the sum', () => {
  const all = sitesOf('jacksonPollock3', 'M').flatMap((site) => [read(site, 20), { ...read(site, 20), observationId: `${site}-again` }])
  const done = circuit(sitesOf('jacksonPollock3', 'M'), nsca, all)
  expect(done.state === 'complete' && done.working.flatMap((line) => line.sources)).toHaveLength(6)
  expect(done.state === 'complete' && done.working.at(-1)?.gives).toBe('30.00 mm')
})

test('three, seven or four sites, by sex where it matters', () => {
  expect(sitesOf('jacksonPollock3', 'M')).toEqual(['chest', 'abdomen', 'thigh'])
  expect(sitesOf('jacksonPollock7', 'W')).toHaveLength(7)
  expect(sitesOf('durninWomersley', 'W')).toEqual(sitesOf('durninWomersley', 'M'))
})

test('a settled site lies within its readings, and two equal readings settle it at once', () => {
  const fold = fc.integer({ min: 4, max: 120 })
  fc.assert(
    fc.property(fc.constantFrom(nsca, acsm, isak), fc.array(fold, { minLength: 1, maxLength: 6 }), fold, (rule, folds, same) => {
      const value = siteValue(rule, folds)
      if (value.state === 'settled') {
        expect(value.quarterMillimetres).toBeGreaterThanOrEqual(2 * Math.min(...folds))
        expect(value.quarterMillimetres).toBeLessThanOrEqual(2 * Math.max(...folds))
      }
      expect(siteValue(rule, [same, same])).toMatchObject({ state: 'settled', quarterMillimetres: 2 * same })
    }),
  )
})
