import { describe, expect, test } from 'vitest'
import { at, celsius, fahrenheit, reading, shown } from './controls.ts'
import { figuresOf } from './reading-figures.ts'
import { demoPolicy } from './policies.ts'
import { wetBulbDegC } from './psychrometrics.ts'
import { checkReading, type Surroundings } from './reading-checks.ts'
import { readingWords } from './reading-words.ts'
import type { HeatReading } from './reading.ts'

const three = (wet: number, globe: number, dry: number) => ({ naturalWetBulb: celsius(wet), globe: celsius(globe), dryBulb: celsius(dry) })
const doubts = (over: Partial<HeatReading>, surroundings?: Surroundings) => checkReading(reading(over), surroundings).doubts
const impossible = (over: Partial<HeatReading>, surroundings?: Surroundings) => checkReading(reading(over), surroundings).impossible

test('a plausible reading is usable and asks nothing', () => {
  expect(checkReading(reading())).toEqual({ outcome: 'usable', impossible: [], doubts: [], remarks: [] })
})

describe('unusable', () => {
  test.each<[string, Partial<HeatReading>, string | undefined]>([
    ['dry bulb at 50.0', { values: three(30, 60, 50) }, undefined],
    ['dry bulb at 50.1', { values: three(30, 60, 50.1) }, 'dryBulbOutsideSensor'],
    ['dry bulb at -5.1', { values: three(-4, -5, -5.1) }, 'dryBulbOutsideSensor'],
    ['dry bulb at 122.1 °F', { values: { ...three(30, 60, 0), dryBulb: fahrenheit(122.1) } }, 'dryBulbOutsideSensor'],
    ['dry bulb at 122.0 °F', { values: { ...three(30, 60, 0), dryBulb: fahrenheit(122) } }, undefined],
    ['wet bulb at 50.1', { values: three(50.1, 60, 50) }, 'wetBulbOutsideSensor'],
    ['globe at 100.1', { values: three(30, 100.1, 50) }, 'globeOutsideSensor'],
    ['globe at 100.0', { values: three(30, 100, 50) }, undefined],
    ['82 as Celsius', { values: { wbgt: celsius(82) }, method: 'instrument' }, 'wbgtOutsideSensor'],
    ['aspirated wet bulb 0.3 above', { values: three(30.3, 40, 30), wetBulbKind: 'psychrometric' }, 'psychrometricWetBulbAboveDryBulb'],
    ['aspirated wet bulb 0.2 above, the noise of two sensors', { values: three(30.2, 40, 30), wetBulbKind: 'psychrometric' }, undefined],
    ['no globe', { values: { naturalWetBulb: celsius(20) } }, 'valueMissing'],
  ])('%s', (_, over, reason) => {
    expect(impossible(over)[0]).toBe(reason)
  })

  test('humidity outside 0 to 100 and a dew point above the dry bulb', () => {
    expect(impossible({}, { relativeHumidityPercent: 104 })).toEqual(['humidityOutsideRange'])
    expect(impossible({}, { relativeHumidityPercent: -1 })).toEqual(['humidityOutsideRange'])
    expect(impossible({}, { relativeHumidityPercent: Number.NaN })).toEqual(['humidityOutsideRange'])
    expect(impossible({}, { relativeHumidityPercent: 100, dewPoint: celsius(26) })).toEqual([])
    expect(impossible({}, { dewPoint: celsius(26.1) })).toEqual(['dewPointAboveDryBulb'])
  })
})

describe('asks for a second look', () => {
  test.each<[string, Partial<HeatReading>, readonly string[]]>([
    [
      '31 °C entered as Fahrenheit',
      { values: { naturalWetBulb: fahrenheit(25), globe: fahrenheit(45), dryBulb: fahrenheit(31) } },
      ['looksLikeTheOtherUnit'],
    ],
    ['27 °C WBGT entered as Fahrenheit', { values: { wbgt: fahrenheit(27) }, method: 'instrument' }, ['looksLikeTheOtherUnit']],
    ['a cold morning in Fahrenheit', { values: { naturalWetBulb: fahrenheit(41), globe: fahrenheit(55), dryBulb: fahrenheit(45) } }, []],
    ['natural wet bulb above the dry bulb', { values: three(27.6, 45, 25) }, ['wetBulbAboveDryBulb']],
    ['wet bulb on the dry bulb in sun', { values: three(25.7, 45, 26) }, ['wickLooksDry']],
    ['wet bulb 0.4 below in sun', { values: three(25.6, 45, 26) }, []],
    ['wet bulb on the dry bulb without sun', { values: three(26, 27, 26), sun: false }, []],
    ['wet bulb under the line of 5 % humidity', { values: three(11.8, 45, 30) }, ['drierThanAirGets']],
    ['wet bulb on the line of 5 % humidity', { values: three(11.9, 45, 30) }, []],
    ['globe below the dry bulb in sun', { values: three(20, 25.9, 26) }, ['globeBelowDryBulb', 'globeNearDryBulbInSun']],
    ['globe 2.0 below at night', { values: three(20, 24, 26), sun: false }, []],
    ['globe 2.1 below at night', { values: three(20, 23.9, 26), sun: false }, ['globeBelowDryBulb']],
    ['globe 1.0 above in sun', { values: three(20, 27, 26) }, ['globeNearDryBulbInSun']],
    ['globe 1.1 above in sun', { values: three(20, 27.1, 26) }, []],
    ['globe 5.0 above without sun', { values: three(20, 31, 26), sun: false }, ['globeFarAboveDryBulbWithoutSun']],
    ['globe 4.9 above without sun', { values: three(20, 30.9, 26), sun: false }, []],
    ['globe 30.0 above', { values: three(20, 56, 26) }, []],
    ['globe 30.1 above', { values: three(20, 56.1, 26) }, ['globeVeryFarAboveDryBulb']],
    ['not settled', { settled: false }, ['notSettled']],
  ])('%s', (_, over, expected) => {
    const checked = checkReading(reading(over))
    expect(checked.doubts).toEqual(expected)
    expect(checked.outcome).toBe(expected.length > 0 ? 'confirm' : 'usable')
  })

  test('a wet bulb on the dry bulb is no surprise in rain or fog', () => {
    expect(doubts({ values: three(26, 45, 26) }, { rainOrFog: true })).toEqual([])
  })

  test('an instrument that was just moved or switched on', () => {
    const since = (clock: string) => ({ undisturbedSince: at(clock) })
    expect(doubts({}, since('09:35'))).toEqual([])
    expect(doubts({}, since('09:35:01'))).toEqual(['notSettled'])
  })

  test.each<[string, Partial<HeatReading>, Partial<HeatReading>, boolean]>([
    ['3.0 °C of WBGT', { values: { wbgt: celsius(24) } }, { values: { wbgt: celsius(27) } }, false],
    ['3.1 °C of WBGT', { values: { wbgt: celsius(24) } }, { values: { wbgt: celsius(27.1) } }, true],
    ['3.1 °C of WBGT downward', { values: { wbgt: celsius(27.1) } }, { values: { wbgt: celsius(24) } }, true],
    ['5.0 °F of WBGT', { values: { wbgt: fahrenheit(80) } }, { values: { wbgt: fahrenheit(85) } }, false],
    ['5.1 °F of WBGT', { values: { wbgt: fahrenheit(80) } }, { values: { wbgt: fahrenheit(85.1) } }, true],
  ])('a jump of %s within half an hour: %s', (_, before, after, asks) => {
    const previous = reading({ method: 'instrument', ...before })
    const now = reading({ method: 'instrument', occurredAt: at('10:30'), ...after })
    const jumped = (one: HeatReading) => checkReading(one, { previous }).doubts.includes('jumpedSinceLastReading')
    expect(jumped(now)).toBe(asks)
    expect(jumped({ ...now, occurredAt: at('10:30:01') })).toBe(false)
    expect(jumped({ ...now, instrumentId: 'another' })).toBe(false)
    expect(jumped({ ...now, place: 'elsewhere' })).toBe(false)
  })

  test('a jump of more than 4 °C of the dry bulb or 15 °C of the globe', () => {
    const jumps = (wet: number, globe: number, dry: number) =>
      doubts({ values: three(wet, globe, dry), occurredAt: at('10:20') }, { previous: reading({ values: three(21, 36, 26) }) })
    expect(jumps(21, 36, 30)).toEqual([])
    expect(jumps(21, 36, 30.1)).toEqual(['jumpedSinceLastReading'])
    expect(jumps(21, 51, 26)).toEqual([])
    expect(jumps(20.5, 51.1, 26)).toEqual(['jumpedSinceLastReading'])
  })
})

describe('beside it', () => {
  test('a small globe and an aspirated bulb in sun are remarked and ask nothing', () => {
    expect(checkReading(reading({ globeDiameterMm: 50 }))).toMatchObject({ outcome: 'usable', remarks: ['globeIsNot150mm'] })
    expect(checkReading(reading({ wetBulbKind: 'psychrometric' })).remarks).toEqual(['psychrometricInSunIsAnEstimate'])
  })

  test('each reason has a sentence', () => {
    expect(Object.values(readingWords).every((sentence) => sentence.length > 20)).toBe(true)
  })
})

describe('figures', () => {
  test('a doubt that was answered no longer stands open, and what is impossible stays', () => {
    const dryWick = reading({ values: three(26, 45, 26) })
    expect(figuresOf(dryWick, demoPolicy)).toMatchObject({
      usable: false,
      questions: ['wickLooksDry'],
      wbgtTenths: 298,
      band: '28.0 and above',
    })
    expect(figuresOf(dryWick, demoPolicy, { confirmed: ['wickLooksDry'] })).toMatchObject({ usable: true, questions: [] })
    const tooHot = figuresOf(shown(82), demoPolicy, { confirmed: ['wbgtOutsideSensor'] })
    expect(tooHot).toMatchObject({ usable: false, questions: ['wbgtOutsideSensor'] })
    expect(figuresOf(reading({ values: {} }), demoPolicy)).toMatchObject({ wbgtTenths: null, band: '', usable: false })
  })
})

// ASHRAE Fundamentals 2017 by psychrolib: the line is kept as integers to a tenth.
test.each([0, 5, 10, 15, 20, 25, 30, 35, 40, 45, 50])('the wet bulb at 5 %% humidity and %i °C', (dry) => {
  const line = wetBulbDegC({ dryBulbDegC: dry, relativeHumidityPercent: 5 })
  const asks = (wet: number) =>
    checkReading(reading({ values: three(wet, Math.min(dry + 20, 99), dry) })).doubts.includes('drierThanAirGets')
  if (line < -4.8) return expect(asks(-5)).toBe(false)
  expect(asks(Math.ceil(line * 10) / 10)).toBe(false)
  expect(asks(Math.floor(line * 10) / 10 - 0.1)).toBe(true)
})
