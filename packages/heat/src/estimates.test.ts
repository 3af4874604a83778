import fc from 'fast-check'
import { p_sat } from 'jsthermalcomfort'
import psychrolib from 'psychrolib'
import { describe, expect, test } from 'vitest'
import { at, celsius, reading } from './controls.ts'
import { estimateWbgt, type EstimateRequest } from './estimate-wbgt.ts'
import { bernardNaturalWetBulb, simplifiedWbgt, stullWetBulb, wbgtFromHeatIndex } from './estimates.ts'
import { globe150mmDegC, meanRadiantDegC } from './globe.ts'
import { callsForHold, mayLift } from './hold-policy.ts'
import { demoPolicy } from './policies.ts'
import { dewPointDegC, relativeHumidityPercent, saturationVapourPressurePa, wetBulbDegC } from './psychrometrics.ts'
import { figuresOf } from './reading-figures.ts'
import { type HeatReading, saysEstimate } from './reading.ts'

const dry = fc.double({ min: 0, max: 50, noNaN: true })
const humidity = fc.double({ min: 5, max: 99, noNaN: true })
const runs = { numRuns: 3000 }

describe('psychrometrics', () => {
  test('humidity to wet bulb and back is the same humidity', () => {
    fc.assert(
      fc.property(dry, humidity, fc.double({ min: 70_000, max: 105_000, noNaN: true }), (dryBulbDegC, percent, pressurePa) => {
        const wet = wetBulbDegC({ dryBulbDegC, relativeHumidityPercent: percent, pressurePa })
        expect(wet).toBeLessThanOrEqual(dryBulbDegC)
        const back = relativeHumidityPercent({ dryBulbDegC, psychrometricWetBulbDegC: wet, pressurePa })
        // The library stops its iteration at 0.001 °C.
        expect(Math.abs(back - percent)).toBeLessThan(0.05)
      }),
      runs,
    )
  })

  test('damper air has the higher wet bulb and dew point, and the dew point is the lowest of the three', () => {
    fc.assert(
      fc.property(dry, humidity, fc.double({ min: 0.5, max: 20, noNaN: true }), (dryBulbDegC, percent, more) => {
        const damper = Math.min(percent + more, 100)
        const [wet, wetter] = [percent, damper].map((one) => wetBulbDegC({ dryBulbDegC, relativeHumidityPercent: one }))
        const [dew, higherDew] = [percent, damper].map((one) => dewPointDegC({ dryBulbDegC, relativeHumidityPercent: one }))
        expect(wetter).toBeGreaterThanOrEqual((wet ?? NaN) - 0.002)
        expect(higherDew).toBeGreaterThanOrEqual((dew ?? NaN) - 0.002)
        expect(dew).toBeLessThanOrEqual((wet ?? NaN) + 0.01)
      }),
      runs,
    )
  })

  test('the vapour pressure of saturated air is that of a second library, within 1 part in 500', () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 60, noNaN: true }), (degC) => {
        const other = p_sat(degC)
        expect(Math.abs(saturationVapourPressurePa(degC) - other)).toBeLessThan(other / 500)
      }),
      runs,
    )
  })

  test('nobody else’s change of units reaches it', () => {
    const air = { dryBulbDegC: 30, relativeHumidityPercent: 60 }
    const before = wetBulbDegC(air)
    psychrolib.SetUnitSystem(1)
    expect(wetBulbDegC(air)).toBe(before)
  })

  test('what cannot be is refused', () => {
    expect(() => wetBulbDegC({ dryBulbDegC: 30, relativeHumidityPercent: 104 })).toThrow('humidity')
    expect(() => dewPointDegC({ dryBulbDegC: 30, relativeHumidityPercent: -1 })).toThrow('humidity')
    expect(() => relativeHumidityPercent({ dryBulbDegC: 30, psychrometricWetBulbDegC: 31 })).toThrow()
  })
})

describe('estimates', () => {
  test('Stull stands near the ASHRAE wet bulb', () => {
    // The paper says -1.0 to +0.65 °C against its own reference. Against ASHRAE's equations it was found up to 0.83 too
    // high, at 40 °C and 30 %, and never more than 0.64 too low.
    fc.assert(
      fc.property(fc.double({ min: 0, max: 40, noNaN: true }), fc.double({ min: 20, max: 99, noNaN: true }), (dryBulbDegC, percent) => {
        const air = { dryBulbDegC, relativeHumidityPercent: percent }
        const off = stullWetBulb(air).degC - wetBulbDegC(air)
        expect(off).toBeGreaterThan(-0.65)
        expect(off).toBeLessThan(0.84)
      }),
      runs,
    )
    expect(stullWetBulb({ dryBulbDegC: 51, relativeHumidityPercent: 4 }).outside).toEqual(['relativeHumidity', 'dryBulb'])
    expect(stullWetBulb({ dryBulbDegC: 20, relativeHumidityPercent: 50 })).toMatchObject({ outside: [] })
  })

  // Bernard and Pourmoghani 1999: the constants on each side of every switch.
  test.each([
    [1, 0.02, 30 - 0.85 * 8],
    [1, 0.03, 30 - (0.96 + 0.069 * Math.log10(0.03)) * 8],
    [1, 3, 30 - (0.96 + 0.069 * Math.log10(3)) * 8],
    [1, 3.1, 22],
    [3.9, 1, 30 - 0.96 * 8],
    [4, 0.05, 22 + 1 + 1.1],
    [4, 0.1, 22 + 1 + 0.1 * 0.1 ** -1.1 - 0.2],
    [4, 1, 22 + 1 - 0.1],
    [15, 5, 22 + 3.75 - 0.1],
  ])('natural wet bulb with a globe %d °C above and wind %d', (radiant, windMPerS, expected) => {
    const air = { dryBulbDegC: 30, psychrometricWetBulbDegC: 22, globeDegC: 30 + radiant, windMPerS }
    expect(bernardNaturalWetBulb(air).degC).toBeCloseTo(expected, 9)
  })

  test('inputs that cannot be are named', () => {
    expect(bernardNaturalWetBulb({ dryBulbDegC: 20, psychrometricWetBulbDegC: 21, globeDegC: 30, windMPerS: -1 }).outside).toEqual([
      'psychrometricWetBulb',
      'wind',
    ])
    expect(simplifiedWbgt({ dryBulbDegC: 20, relativeHumidityPercent: 101 }).outside).toEqual(['relativeHumidity'])
    expect(wbgtFromHeatIndex(79).outside).toEqual(['heatIndex'])
    // Bernard and Iheanacho 2015, by hand: -0.0034 × 100² + 96 - 34 = 28.
    expect(wbgtFromHeatIndex(100)).toMatchObject({ outside: [] })
    expect(wbgtFromHeatIndex(100).degC).toBeCloseTo(28, 9)
  })

  test('simplified WBGT rises with temperature and with humidity', () => {
    fc.assert(
      fc.property(dry, humidity, fc.double({ min: 0.1, max: 5, noNaN: true }), (dryBulbDegC, percent, more) => {
        const base = simplifiedWbgt({ dryBulbDegC, relativeHumidityPercent: percent }).degC
        expect(simplifiedWbgt({ dryBulbDegC: dryBulbDegC + more, relativeHumidityPercent: percent }).degC).toBeGreaterThan(base)
        expect(simplifiedWbgt({ dryBulbDegC, relativeHumidityPercent: percent + more }).degC).toBeGreaterThan(base)
      }),
      runs,
    )
  })
})

describe('globes of other sizes', () => {
  const globe = fc.record({
    globeDegC: fc.double({ min: 25, max: 70, noNaN: true }),
    dryBulbDegC: fc.double({ min: 10, max: 45, noNaN: true }),
    airSpeedMPerS: fc.double({ min: 0, max: 5, noNaN: true }),
    diameterM: fc.double({ min: 0.03, max: 0.15, noNaN: true }),
    emissivity: fc.constant(0.95),
  })

  test('the 150 mm equivalent has the same mean radiant temperature, and a 150 mm globe is its own', () => {
    fc.assert(
      fc.property(globe, (one) => {
        fc.pre(Number.isFinite(meanRadiantDegC(one)))
        const equivalent = globe150mmDegC(one)
        const again = meanRadiantDegC({ ...one, globeDegC: equivalent, diameterM: 0.15 })
        expect(Math.abs(again - meanRadiantDegC(one))).toBeLessThan(1e-6)
        expect(Math.abs(globe150mmDegC({ ...one, diameterM: 0.15 }) - one.globeDegC)).toBeLessThan(1e-6)
      }),
      runs,
    )
  })

  test('a small globe in sun reads low', () => {
    fc.assert(
      fc.property(globe, (one) => {
        fc.pre(one.globeDegC > one.dryBulbDegC)
        expect(globe150mmDegC(one)).toBeGreaterThanOrEqual(one.globeDegC - 1e-6)
      }),
      runs,
    )
  })

  test('no radiation explains a globe far under the air in wind', () => {
    expect(globe150mmDegC({ globeDegC: -50, dryBulbDegC: 45, airSpeedMPerS: 5, diameterM: 0.03, emissivity: 0.95 })).toBeNaN()
  })
})

describe('an estimate as a reading', () => {
  const weather = { dryBulbDegC: 33, relativeHumidityPercent: 50, pressureHPa: 985, windMPerS: 1.5, solarWPerM2: 820 }
  const station = {
    latitudeDegNorth: 33.45,
    longitudeDegEast: -84.15,
    epochMs: Date.parse('2026-07-15T18:00Z'),
    averagingMinutes: 1,
    globeDiameterM: 0.0508,
  }
  const estimated = (request: EstimateRequest, over: Partial<HeatReading> = {}) =>
    reading({ values: { wbgt: estimateWbgt(request)?.wbgt }, method: 'estimate', occurredAt: at('10:50'), ...over })

  test('is kept to a hundredth, named, and marked where it is for screening only', () => {
    // Liljegren et al. 2008, original C code: 31.84 °C.
    const best = estimateWbgt({ method: 'liljegren2008', weather, station })
    expect(best).toMatchObject({ wbgt: { unit: 'hundredthsDegC', method: 'estimate: liljegren2008' }, screeningOnly: false, outside: [] })
    expect(Math.abs((best?.wbgt.amount ?? NaN) - 3184)).toBeLessThan(5)
    // Bureau of Meteorology page: 34.25 °C; Bernard and Iheanacho: 28 °C at 100 °F.
    expect(estimateWbgt({ method: 'simplified', dryBulbDegC: 30, relativeHumidityPercent: 80 })).toMatchObject({ screeningOnly: true })
    expect(estimateWbgt({ method: 'heatIndex', heatIndexDegF: 100 })).toMatchObject({ wbgt: { amount: 2800 }, screeningOnly: true })
  })

  test('from a globe and an aspirated wet bulb, or the humidity of the air', () => {
    const room = { method: 'bernard1999', dryBulbDegC: 30, globeDegC: 45, windMPerS: 0.5, sun: false } as const
    // The natural wet bulb is 22 + 3.75 + 0.0144 °C by the published formula; 0.7 of it and 0.3 of 45 are 31.535.
    expect(estimateWbgt({ ...room, wetBulb: { psychrometricWetBulbDegC: 22 } })?.wbgt.amount).toBe(3154)
    expect(estimateWbgt({ ...room, sun: true, wetBulb: { psychrometricWetBulbDegC: 22 } })?.wbgt.amount).toBe(3004)
    const humid = (by: 'ashrae2017' | 'stull2011') =>
      estimateWbgt({ ...room, wetBulb: { relativeHumidityPercent: 49.97, by } })?.wbgt.amount
    expect(humid('ashrae2017')).toBeCloseTo(3154, -1)
    expect(Math.abs((humid('stull2011') ?? NaN) - 3154)).toBeLessThan(70)
  })

  test('names what its source does not cover, and is none where no number comes out', () => {
    const dark = { ...weather, solarWPerM2: -1, windMPerS: -1, relativeHumidityPercent: 101 }
    expect(estimateWbgt({ method: 'liljegren2008', weather: dark, station })?.outside).toEqual([
      'relativeHumidity',
      'wind',
      'solarIrradiance',
    ])
    expect(estimateWbgt({ method: 'liljegren2008', weather: { ...weather, pressureHPa: Number.NaN }, station })).toBeUndefined()
    expect(estimateWbgt({ method: 'heatIndex', heatIndexDegF: Number.NaN })).toBeUndefined()
  })

  test('raises a hold and never lifts one, whatever else is ticked', () => {
    const hot = estimated({ method: 'heatIndex', heatIndexDegF: 101 })
    expect(callsForHold(hot, demoPolicy)).toMatchObject({ calls: 'hold', wbgt: { tenths: 283, rule: 'estimated' } })
    const cool = figuresOf(estimated({ method: 'heatIndex', heatIndexDegF: 85 }), demoPolicy)
    const trusting = { ...demoPolicy, derivedWetBulbMayLift: true }
    const asked = mayLift({ reading: cool, hold: { raisedAt: at('10:00') }, policy: trusting, nowMs: at('10:51') })
    expect(cool).toMatchObject({ usable: true, settled: true, wetBulbKind: 'natural' })
    expect(asked).toEqual({ refused: 'estimateCannotLift' })
  })

  test('is known by its method, however it comes in', () => {
    expect(saysEstimate(estimateWbgt({ method: 'heatIndex', heatIndexDegF: 90 })?.wbgt ?? expect.fail())).toBe(true)
    expect(saysEstimate({ ...celsius(28), method: 'estimate' })).toBe(true)
    expect(saysEstimate({ ...celsius(28), method: 'meter display' })).toBe(false)
  })
})
