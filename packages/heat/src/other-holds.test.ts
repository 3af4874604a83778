import fc from 'fast-check'
import heatIndexLibrary from 'heat-index'
import { heatIndex } from 'jsthermalcomfort'
import { describe, expect, test } from 'vitest'
import { acclimatisedBy, isAcclimatised, mostExposurePercent } from './acclimatisation.ts'
import { airCallsForHold, airCategory, everyoneCutsExertionFrom } from './air.ts'
import { coldCallsForHold, frostbiteWithin30MinutesTenthsDegC } from './cold.ts'
import { at } from './controls.ts'
import { exact } from './exact.ts'
import { heatIndexDegF, heatIndexTableDegF, heatIndexToShow } from './heat-index.ts'
import { earliestResume, lightningCallsForHold } from './lightning.ts'
import { nioshRalDegC, nioshRelDegC, timeWeighted } from './occupational.ts'
import type { HeatTable } from './policies.ts'
import { publishedTables } from './published-tables.ts'
import { restrictionInForce } from './session-restriction.ts'
import { tenthsOf } from './wbgt.ts'
import { windChillDegC, windChillDegF } from './wind-chill.ts'
import { litresPerQuart, mostFluidQuarts, paceOf, type Work } from './work-rest.ts'

describe('lightning', () => {
  test('thunder, a near flash and a flash of unknown distance call for a hold; a far one does not', () => {
    expect(lightningCallsForHold({ kind: 'thunder' })).toBe(true)
    expect(lightningCallsForHold({ kind: 'flash', secondsToThunder: 30 })).toBe(true)
    expect(lightningCallsForHold({ kind: 'flash' })).toBe(true)
    expect(lightningCallsForHold({ kind: 'flash', secondsToThunder: 31 })).toBe(false)
  })

  test('each one starts the wait anew, in whatever order they are told', () => {
    expect(earliestResume([at('13:31'), at('13:05'), at('13:20')], 30)).toBe(at('14:01'))
    expect(earliestResume([], 30)).toBeUndefined()
  })
})

describe('air', () => {
  // US EPA air quality index.
  test.each([
    [0, 'good'],
    [50, 'good'],
    [51, 'moderate'],
    [100, 'moderate'],
    [101, 'unhealthy for sensitive groups'],
    [150, 'unhealthy for sensitive groups'],
    [151, 'unhealthy'],
    [200, 'unhealthy'],
    [201, 'very unhealthy'],
    [300, 'very unhealthy'],
    [301, 'hazardous'],
    [900, 'hazardous'],
  ])('%i is %s', (index, category) => {
    expect(airCategory(index)).toBe(category)
  })

  test('a hold is called for at the site’s figure and above it', () => {
    expect(airCallsForHold(everyoneCutsExertionFrom, 151)).toBe(true)
    expect(airCallsForHold(150, 151)).toBe(false)
    expect(() => airCategory(-1)).toThrow()
  })
})

describe('cold', () => {
  test('wind chill is the same on both scales, within their printed digits', () => {
    fc.assert(
      fc.property(fc.double({ min: -40, max: 10, noNaN: true }), fc.double({ min: 5, max: 80, noNaN: true }), (degC, kmPerH) => {
        const inF = windChillDegF(degC * 1.8 + 32, kmPerH / 1.609344)
        expect(Math.abs(((inF ?? NaN) - 32) / 1.8 - (windChillDegC(degC, kmPerH) ?? NaN))).toBeLessThan(0.15)
      }),
      { numRuns: 2000 },
    )
  })

  test('is not defined in warm or still air', () => {
    expect([windChillDegF(50.1, 10), windChillDegF(50, 3), windChillDegC(10.1, 10), windChillDegC(0, 4.7)]).toEqual([
      undefined,
      undefined,
      undefined,
      undefined,
    ])
    expect(windChillDegF(50, 3.1)).toBeDefined()
  })

  test('a hold is called for at the site’s figure and below it', () => {
    expect(coldCallsForHold(-278, frostbiteWithin30MinutesTenthsDegC)).toBe(true)
    expect(coldCallsForHold(-277, frostbiteWithin30MinutesTenthsDegC)).toBe(false)
  })
})

describe('heat index', () => {
  const warm = fc.double({ min: 80, max: 110, noNaN: true })
  const humidity = fc.double({ min: 0, max: 100, noNaN: true })

  test('the bare regression is that of a second library', () => {
    fc.assert(
      fc.property(warm, humidity, (degF, percent) => {
        const other = heatIndex(degF, percent, { units: 'IP', round: false })
        // It takes the same regression in Celsius, with its coefficients rounded on the way.
        expect(Math.abs(heatIndexTableDegF(degF, percent) - other)).toBeLessThan(0.06)
      }),
      { numRuns: 3000 },
    )
  })

  test('with its corrections it is that of a third, where both take the regression', () => {
    fc.assert(
      fc.property(warm, humidity, (temperature, percent) => {
        const mine = heatIndexDegF(temperature, percent)
        const simple = 0.5 * (temperature + 61 + (temperature - 68) * 1.2 + percent * 0.094)
        fc.pre((simple + temperature) / 2 >= 80)
        expect(Math.abs(mine - heatIndexLibrary.heatIndex({ temperature, humidity: percent, fahrenheit: true }))).toBeLessThan(1e-6)
      }),
      { numRuns: 3000 },
    )
  })

  test('below 80 °F nothing is shown', () => {
    expect(heatIndexToShow(79.9, 90)).toBeUndefined()
    expect(heatIndexToShow(80, 5)).toBeUndefined()
    expect(heatIndexToShow(90, 70)).toBeCloseTo(105.9, 1)
    expect(heatIndexDegF(70, 50)).toBeCloseTo((0.5 * (70 + 61 + 2.4 + 4.7) + 70) / 2, 9)
  })
})

describe('pacing', () => {
  // TB MED 507 card: work/rest minutes and US quarts an hour.
  const card: Record<number, Record<Work, [string, number]>> = {
    1: { easy: ['no limit', 0.5], moderate: ['no limit', 0.75], hard: ['40/20', 0.75] },
    2: { easy: ['no limit', 0.5], moderate: ['50/10', 0.75], hard: ['30/30', 1] },
    3: { easy: ['no limit', 0.75], moderate: ['40/20', 0.75], hard: ['30/30', 1] },
    4: { easy: ['no limit', 0.75], moderate: ['30/30', 0.75], hard: ['20/40', 1] },
    5: { easy: ['50/10', 1], moderate: ['20/40', 1], hard: ['10/50', 1] },
  }

  test.each([1, 2, 3, 4, 5])('the row of category %i', (category) => {
    for (const work of ['easy', 'moderate', 'hard'] as const) {
      const pace = paceOf(category, work)
      const says = pace?.workRest ? `${pace.workRest.workMinutes}/${pace.workRest.restMinutes}` : 'no limit'
      expect([says, (pace?.waterQuarterQuartsPerHour ?? NaN) / 4]).toEqual(card[category]?.[work])
    }
  })

  test('no row below category 1, and never more than a quart and a half an hour', () => {
    expect(paceOf(0, 'hard')).toBeUndefined()
    expect(mostFluidQuarts.perHour * litresPerQuart).toBeCloseTo(1.42, 2)
    expect(mostFluidQuarts.perDay * litresPerQuart).toBeCloseTo(11.36, 2)
  })
})

describe('getting used to heat', () => {
  test('the NIOSH schedules', () => {
    expect([1, 2, 3, 4, 5, 6].map((day) => mostExposurePercent('new', day))).toEqual([20, 40, 60, 80, 100, 100])
    expect([1, 2, 3, 4, 5].map((day) => mostExposurePercent('returning', day))).toEqual([50, 60, 80, 100, 100])
    expect(() => mostExposurePercent('new', 0)).toThrow()
  })

  test('one series of days, three definitions', () => {
    const daily = Array.from({ length: 25 }, (_, day) => day)
    const by = (days: number[], today: number) => Object.values(acclimatisedBy).map((definition) => isAcclimatised(days, today, definition))
    expect(by(daily, 25)).toEqual([true, true, false])
    expect(by(daily, 14)).toEqual([true, false, false])
    expect(by(daily, 13)).toEqual([false, false, false])
    expect(by(daily, 32)).toEqual([false, false, false])
    expect(by([...daily.slice(0, 10), ...daily.slice(20)], 25)).toEqual([false, false, false])
    expect(by([], 25)).toEqual([false, false, false])
  })
})

describe('occupational limits', () => {
  // NIOSH 2016-106 at 115, 180, 300, 415 and 520 W.
  test('the two curves', () => {
    const rates = [115, 180, 300, 415, 520]
    expect(rates.map((rate) => Number(nioshRelDegC(rate).toFixed(1)))).toEqual([33.0, 30.8, 28.2, 26.6, 25.5])
    expect(rates.map((rate) => Number(nioshRalDegC(rate).toFixed(1)))).toEqual([30.8, 28.1, 25.0, 23.0, 21.6])
  })

  test('an average over an hour is exact, and of no time at all there is none', () => {
    const part = (degrees: number, minutes: number) => ({
      wbgt: { degrees: exact(degrees), scale: 'degC' as const },
      duration: exact(minutes),
    })
    expect(tenthsOf(timeWeighted([part(32, 15), part(28, 45)]), 'degC')).toBe(290)
    expect(() => timeWeighted([])).toThrow()
    expect(() => timeWeighted([part(30, 0)])).toThrow()
    expect(() => timeWeighted([part(30, 30), part(28, -10)])).toThrow()
  })
})

describe('the restriction within a session', () => {
  // Georgia High School Association, memo of 24 August 2023.
  const table = publishedTables['ghsa_2_67'] as HeatTable
  const told = (...readings: [minute: number, tenths: number][]) => readings.map(([minute, tenths]) => ({ atMs: minute * 60_000, tenths }))
  const inForce = (readings: ReturnType<typeof told>, minute: number) => restrictionInForce(readings, table, minute * 60_000)?.id
  const rising = told([0, 862], [10, 873], [20, 876], [25, 874], [40, 860], [55, 851])

  test('a band counts after exactly fifteen minutes of readings in it, and never steps down', () => {
    expect([0, 10, 24, 25, 55].map((minute) => inForce(rising, minute))).toEqual([
      '82.0-86.9',
      '82.0-86.9',
      '82.0-86.9',
      '87.0-89.9',
      '87.0-89.9',
    ])
  })

  test('a dip starts the fifteen minutes anew; a still hotter reading does not', () => {
    expect(inForce(told([0, 862], [10, 873], [18, 865], [20, 873], [30, 873]), 30)).toBe('82.0-86.9')
    expect(inForce(told([0, 862], [10, 873], [20, 905], [25, 901]), 25)).toBe('87.0-89.9')
    expect(inForce(told([0, 862], [10, 873], [20, 905], [35, 901]), 35)).toBe('90.0-92.0')
  })

  test('without a reading nothing is in force', () => {
    expect(inForce([], 5)).toBeUndefined()
    expect(inForce(rising, -1)).toBeUndefined()
  })
})
