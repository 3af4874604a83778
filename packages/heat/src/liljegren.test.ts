import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { liljegren, liljegrenAtStation, type WeatherInSun } from './liljegren.ts'
import { wetBulbDegC } from './psychrometrics.ts'
import { sunOver } from './sun.ts'

const noon: WeatherInSun = {
  dryBulbDegC: 32,
  relativeHumidityPercent: 60,
  pressureHPa: 1013,
  windMPerS: 1,
  solarWPerM2: 700,
  directShare: 0.7,
  cosZenith: 0.9,
  globeDiameterM: 0.0508,
}
const night = { ...noon, solarWPerM2: 0, directShare: 0, cosZenith: 0.05 }

describe('Liljegren', () => {
  // The original C code, version 1.1.
  test('meets the reference code by day, and with a 150 mm globe', () => {
    expect(liljegren(noon)?.wbgtDegC).toBeCloseTo(32.34, 1)
    expect(liljegren({ ...noon, globeDiameterM: 0.15 })?.wbgtDegC).toBeCloseTo(33.69, 1)
  })

  test.each([
    [30, 60, 0.3, 800, 29.35],
    [30, 60, 5, 800, 24.89],
    [30, 60, 0.5, 0, 23.84],
    [25, 99, 1, 800, 27.6],
  ])('natural wet bulb at %d °C, %d %%, %d m/s and %d W/m²', (dryBulbDegC, relativeHumidityPercent, windMPerS, solarWPerM2, expected) => {
    const base = solarWPerM2 > 0 ? noon : night
    const estimate = liljegren({ ...base, dryBulbDegC, relativeHumidityPercent, windMPerS, solarWPerM2 })
    expect(Math.abs((estimate?.naturalWetBulbDegC ?? NaN) - expected)).toBeLessThan(0.06)
  })

  test('under an open sky at night the globe stands up to about 2 °C below the air', () => {
    for (const windMPerS of [0.5, 1, 3]) {
      const below = 30 - (liljegren({ ...night, dryBulbDegC: 30, windMPerS })?.globeDegC ?? NaN)
      expect(below).toBeGreaterThan(0)
      expect(below).toBeLessThan(2.5)
    }
  })

  const weather = fc.record({
    dryBulbDegC: fc.double({ min: 5, max: 45, noNaN: true }),
    relativeHumidityPercent: fc.double({ min: 10, max: 95, noNaN: true }),
    pressureHPa: fc.double({ min: 800, max: 1040, noNaN: true }),
    windMPerS: fc.double({ min: 0, max: 8, noNaN: true }),
    solarWPerM2: fc.double({ min: 0, max: 1000, noNaN: true }),
    directShare: fc.double({ min: 0, max: 0.9, noNaN: true }),
    cosZenith: fc.double({ min: 0.3, max: 1, noNaN: true }),
    globeDiameterM: fc.constantFrom(0.0508, 0.15),
  })
  const wbgt = (one: WeatherInSun) => liljegren(one)?.wbgtDegC ?? NaN

  test('settles in any sensible weather, and rises with sun, humidity and warmth', () => {
    fc.assert(
      fc.property(weather, fc.double({ min: 0.5, max: 5, noNaN: true }), (one, more) => {
        const base = wbgt(one)
        expect(base).toBeGreaterThan(-10)
        expect(wbgt({ ...one, solarWPerM2: one.solarWPerM2 + 20 * more })).toBeGreaterThan(base - 1e-3)
        expect(wbgt({ ...one, relativeHumidityPercent: one.relativeHumidityPercent + more })).toBeGreaterThan(base - 1e-3)
        expect(wbgt({ ...one, dryBulbDegC: one.dryBulbDegC + more })).toBeGreaterThan(base)
      }),
      { numRuns: 300 },
    )
  })

  test('settles in the hottest and dampest air as well, where the published damping swings', () => {
    const worst = { ...noon, dryBulbDegC: 50, relativeHumidityPercent: 100, pressureHPa: 800, solarWPerM2: 1100 }
    for (const windMPerS of [0, 0.5, 2, 8]) expect(liljegren({ ...worst, windMPerS })?.naturalWetBulbDegC).toBeGreaterThan(50)
  })

  test('in sun and light wind the natural wet bulb stands above the aspirated one', () => {
    fc.assert(
      fc.property(weather, (one) => {
        const sunny = { ...one, solarWPerM2: 700, windMPerS: 1 }
        const aspirated = wetBulbDegC({ ...sunny, pressurePa: sunny.pressureHPa * 100 })
        expect(liljegren(sunny)?.naturalWetBulbDegC).toBeGreaterThan(aspirated)
      }),
      { numRuns: 300 },
    )
  })

  test('says nothing of weather in which the balance cannot be drawn', () => {
    expect(liljegren({ ...noon, pressureHPa: Number.NaN })).toBeUndefined()
  })
})

describe('at a station', () => {
  const station = { latitudeDegNorth: 33.45, longitudeDegEast: -84.15, averagingMinutes: 1, globeDiameterM: 0.0508 }
  const at = (iso: string) => ({ ...station, epochMs: Date.parse(iso) })

  test('the sun’s own height decides the direct share; at night there is none', () => {
    const byDay = liljegrenAtStation(noon, at('2026-07-15T18:00Z'))?.globeDegC ?? NaN
    const byNight = liljegrenAtStation({ ...noon, solarWPerM2: 0 }, at('2026-07-15T06:00Z'))?.globeDegC ?? NaN
    expect(byDay).toBeGreaterThan(40)
    expect(byNight).toBeLessThan(32)
  })

  test('a meter that shows more than the sky lets through, 0.85, counts as much as the sky does', () => {
    const { cosZenith, distance } = sunOver(station, Date.parse('2026-07-15T18:00Z') - 30_000)
    const most = (0.85 * 1367 * cosZenith) / distance ** 2
    const shown = (solarWPerM2: number) => liljegrenAtStation({ ...noon, solarWPerM2 }, at('2026-07-15T18:00Z'))?.wbgtDegC ?? NaN
    expect(shown(1500)).toBeCloseTo(shown(most), 9)
    expect(shown(most)).toBeGreaterThan(shown(0.99 * most))
  })
})

describe('the sun', () => {
  // The low-precision formulas of the Astronomical Almanac, good to 0.01 degree, written out a second time.
  const almanac = (latitude: number, longitude: number, epochMs: number) => {
    const rad = Math.PI / 180
    const n = epochMs / 86_400_000 - 10_957.5
    const g = (357.528 + 0.9856003 * n) * rad
    const lambda = (280.46 + 0.9856474 * n + 1.915 * Math.sin(g) + 0.02 * Math.sin(2 * g)) * rad
    const tilt = (23.439 - 0.0000004 * n) * rad
    const rightAscension = Math.atan2(Math.cos(tilt) * Math.sin(lambda), Math.cos(lambda))
    const declination = Math.asin(Math.sin(tilt) * Math.sin(lambda))
    const hourAngle = (280.46061837 + 360.98564736629 * n + longitude) * rad - rightAscension
    return Math.sin(latitude * rad) * Math.sin(declination) + Math.cos(latitude * rad) * Math.cos(declination) * Math.cos(hourAngle)
  }

  test('stands where a second set of equations puts it', () => {
    const instants = fc.integer({ min: Date.parse('2020-01-01'), max: Date.parse('2049-12-31') })
    fc.assert(
      fc.property(
        fc.double({ min: -66, max: 66, noNaN: true }),
        fc.double({ min: -180, max: 180, noNaN: true }),
        instants,
        (latitude, longitude, epochMs) => {
          const { cosZenith } = sunOver({ latitudeDegNorth: latitude, longitudeDegEast: longitude }, epochMs)
          const other = almanac(latitude, longitude, epochMs)
          fc.pre(other > 0.1)
          expect(Math.abs(cosZenith - other)).toBeLessThan(0.003)
        },
      ),
      { numRuns: 2000 },
    )
  })

  test('is nearest in early January and farthest in early July, by 1.7 %', () => {
    const distance = (iso: string) => sunOver({ latitudeDegNorth: 0, longitudeDegEast: 0 }, Date.parse(iso)).distance
    expect(distance('2026-01-03')).toBeCloseTo(0.9833, 3)
    expect(distance('2026-07-06')).toBeCloseTo(1.0167, 3)
  })
})
