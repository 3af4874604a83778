import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { bandAt, classify } from './classify.ts'
import { celsius, fahrenheit, reading, shown } from './controls.ts'
import { exact } from './exact.ts'
import type { HeatTable } from './policies.ts'
import { publishedTables } from './published-tables.ts'
import type { Measured, Unit } from '@musterbook/vocabulary/measured'
import { type Temperature, temperatureOf, toScale } from './temperature.ts'
import { tenthsOf, wbgtInSun, wbgtOf, wbgtWithoutSun } from './wbgt.ts'

const tenths = (amount: number, unit: Unit): Measured => ({ amount, unit, resolution: 1, method: 'sensor' })
const bulbs = (wet: number, globe: number, dry: number, unit: Unit = 'tenthsDegF') => ({
  naturalWetBulb: tenths(wet, unit),
  globe: tenths(globe, unit),
  dryBulb: tenths(dry, unit),
})

/** Each bound that a table of this unit cuts at, in tenths, and the tenth before it. */
const boundsOf = (unit: 'degC' | 'degF') => [
  ...new Set(
    Object.values(publishedTables)
      .filter((table) => table.unit === unit)
      .flatMap((table) => table.bands.flatMap(({ from }) => (from ? [from.tenths] : []))),
  ),
]

/**
 * Each triple of tenths whose exact sum, in hundredths, is that: a dry bulb from 15 degrees below to 20 above it, a
 * globe up to 40 above the dry bulb and a wet bulb from 30 below that to 5 above.
 */
function* triplesOf(hundredths: number): Generator<readonly [wet: number, globe: number, dry: number]> {
  const middle = hundredths / 10
  for (let dry = Math.round(middle) - 150; dry <= middle + 200; dry++) {
    for (let globe = dry; globe <= dry + 400; globe++) {
      const sevenWet = hundredths - 2 * globe - dry
      if (sevenWet % 7 !== 0) continue
      const wet = sevenWet / 7
      if (wet >= dry - 300 && wet <= dry + 50) yield [wet, globe, dry]
    }
  }
}

describe('WBGT is exact', () => {
  // ISO 7243, by hand: 0.7 × 75.5 + 0.2 × 104.1 + 0.1 × 83.3 = 82, which doubles make 81.99999999999999.
  test('a sum on a bound stands on it', () => {
    expect(0.7 * 75.5 + 0.2 * 104.1 + 0.1 * 83.3).toBeLessThan(82)
    expect(wbgtOf(reading({ values: bulbs(755, 1041, 833) }), 'degF')).toEqual({ tenths: 820, unit: 'degF', rule: 'inSun' })
  })

  test.each(boundsOf('degF'))('every plausible triple around %i tenths °F falls where whole numbers put it', (bound) => {
    let triples = 0
    for (const off of [-6, -5, -4, -1, 0, 1]) {
      const hundredths = bound * 10 + off
      for (const [wet, globe, dry] of triplesOf(hundredths)) {
        triples++
        const sum = wbgtOf(reading({ values: bulbs(wet, globe, dry) }), 'degF')?.tenths
        if (sum !== Math.floor((hundredths + 5) / 10)) expect.fail(`${wet}, ${globe}, ${dry}: ${sum}`)
      }
    }
    expect(triples).toBeGreaterThan(3000)
  })

  test.each(boundsOf('degC'))('every plausible triple around %i tenths °C falls where whole numbers put it, in °F as well', (bound) => {
    let triples = 0
    for (const off of [-6, -5, -4, -1, 0, 1]) {
      const hundredths = bound * 10 + off
      for (const [wet, globe, dry] of triplesOf(hundredths)) {
        triples++
        const one = reading({ values: bulbs(wet, globe, dry, 'tenthsDegC') })
        const [inC, inF] = [wbgtOf(one, 'degC')?.tenths, wbgtOf(one, 'degF')?.tenths]
        // Tenths of °F are (9 × hundredths + 16000) / 50, in whole numbers.
        if (inC !== Math.floor((hundredths + 5) / 10) || inF !== Math.floor((9 * hundredths + 16_025) / 50))
          expect.fail(`${wet}, ${globe}, ${dry}: ${inC}, ${inF}`)
      }
    }
    expect(triples).toBeGreaterThan(3000)
  })

  test('plain doubles would put many of those on the wrong side', () => {
    const wrong = [...triplesOf(9000)].filter(([wet, globe, dry]) => 0.7 * (wet / 10) + 0.2 * (globe / 10) + 0.1 * (dry / 10) < 90)
    expect(wrong.length).toBeGreaterThan(100)
  })

  test('is converted and rounded once: every hundredth from -20 to 60 °C', () => {
    for (let hundredths = -2000; hundredths <= 6000; hundredths++) {
      const one = shown(0, { values: { wbgt: tenths(hundredths, 'hundredthsDegC') } })
      if (wbgtOf(one, 'degF')?.tenths !== Math.floor((9 * hundredths + 16_025) / 50)) expect.fail(`${hundredths}`)
      if (wbgtOf(one, 'degC')?.tenths !== Math.floor((hundredths + 5) / 10)) expect.fail(`${hundredths}`)
    }
  })

  test('32.19 °C is 89.9 °F: not rounded to 32.2 °C on the way, which would be 90.0', () => {
    expect(wbgtOf(shown(0, { values: { wbgt: tenths(3219, 'hundredthsDegC') } }), 'degF')?.tenths).toBe(899)
    expect(wbgtOf(shown(32.2), 'degF')?.tenths).toBe(900)
  })

  test('is the same air on either scale, and in either formula', () => {
    // Fives of a tenth of °C are nines of a tenth of °F: the same temperature, read without any rounding.
    const step = fc.integer({ min: 0, max: 100 })
    fc.assert(
      fc.property(step, step, step, fc.boolean(), (wet, globe, dry, sun) => {
        const inC = bulbs(5 * wet, 5 * globe, 5 * dry, 'tenthsDegC')
        const inF = bulbs(320 + 9 * wet, 320 + 9 * globe, 320 + 9 * dry, 'tenthsDegF')
        const mixed = { ...inC, globe: inF.globe }
        const all = [inC, inF, mixed].map((values) => reading({ values, sun }))
        for (const unit of ['degC', 'degF'] as const) expect(new Set(all.map((one) => wbgtOf(one, unit)?.tenths)).size).toBe(1)
      }),
      { numRuns: 2000 },
    )
  })

  test('never falls when a bulb rises', () => {
    const bulb = fc.integer({ min: -50, max: 500 })
    fc.assert(
      fc.property(bulb, bulb, bulb, fc.nat(100), fc.nat(2), fc.boolean(), (wet, globe, dry, rise, which, sun) => {
        const raised = [wet, globe, dry].map((value, index) => (index === which ? value + rise : value)) as [number, number, number]
        for (const unit of ['degC', 'degF'] as const) {
          const before = wbgtOf(reading({ values: bulbs(wet, globe, dry, 'tenthsDegC'), sun }), unit)?.tenths ?? NaN
          const after = wbgtOf(reading({ values: bulbs(...raised, 'tenthsDegC'), sun }), unit)?.tenths ?? NaN
          expect(after).toBeGreaterThanOrEqual(before)
        }
      }),
      { numRuns: 2000 },
    )
  })

  test('of three equal bulbs is that temperature', () => {
    const same: Temperature = { degrees: exact(2713, 100), scale: 'degC' }
    expect(tenthsOf(wbgtInSun(same, same, same), 'degC')).toBe(271)
    expect(tenthsOf(wbgtWithoutSun(same, same), 'degC')).toBe(271)
  })
})

describe('which rule gave it', () => {
  test('sun or no sun decides the formula, and without sun the dry bulb is not used', () => {
    const values = { naturalWetBulb: celsius(25), globe: celsius(32), dryBulb: celsius(20) }
    // pythermalcomfort 3.9.1 prints 25.9 and 27.1 for these.
    expect(wbgtOf(reading({ values }), 'degC')).toEqual({ tenths: 259, unit: 'degC', rule: 'inSun' })
    expect(wbgtOf(reading({ values, sun: false }), 'degC')).toEqual({ tenths: 271, unit: 'degC', rule: 'withoutSun' })
    expect(wbgtOf(reading({ values: { ...values, dryBulb: null }, sun: false }), 'degC')).toMatchObject({ tenths: 271 })
  })

  test('nothing is taken for granted: with a needed bulb missing there is no WBGT', () => {
    const { naturalWetBulb, globe, dryBulb } = bulbs(700, 900, 800)
    expect(wbgtOf(reading({ values: { naturalWetBulb, globe } }), 'degF')).toBeUndefined()
    expect(wbgtOf(reading({ values: { naturalWetBulb, dryBulb } }), 'degF')).toBeUndefined()
    expect(wbgtOf(reading({ values: { globe, dryBulb }, sun: false }), 'degF')).toBeUndefined()
    expect(wbgtOf(reading({ values: { naturalWetBulb, globe, dryBulb }, method: 'instrument' }), 'degF')).toBeUndefined()
  })

  test('an instrument’s own figure, an estimate, and an aspirated bulb in sun are named as such', () => {
    expect(wbgtOf(shown(27.1), 'degC')?.rule).toBe('asShown')
    expect(wbgtOf(shown(27.1, { method: 'estimate' }), 'degC')?.rule).toBe('estimated')
    expect(wbgtOf(reading({ wetBulbKind: 'psychrometric' }), 'degC')?.rule).toBe('estimated')
    expect(wbgtOf(reading({ wetBulbKind: 'psychrometric', sun: false }), 'degC')?.rule).toBe('withoutSun')
  })

  test('a unit that is not of temperature is a broken caller', () => {
    expect(() => temperatureOf({ amount: 1, unit: 'tenthsKg', resolution: 1, method: 'scale' })).toThrow('tenthsKg')
  })

  test('there and back on any scale is the same temperature', () => {
    fc.assert(
      fc.property(fc.integer({ min: -5000, max: 20_000 }), fc.constantFrom('degC', 'degF', 'K'), (hundredths, to) => {
        const one: Temperature = { degrees: exact(hundredths, 100), scale: 'degF' }
        expect(tenthsOf(toScale(one, to), 'degF')).toBe(tenthsOf(one, 'degF'))
      }),
    )
    expect(tenthsOf({ degrees: exact(0), scale: 'K' }, 'degC')).toBe(-2731)
  })
})

describe('the band at every bound', () => {
  const at = (table: string, wbgt: Temperature) => classify(wbgt, publishedTables[table] as HeatTable)
  const degrees = (value: number, scale: 'degC' | 'degF'): Temperature => ({ degrees: exact(Math.round(value * 100), 100), scale })

  test.each<[string, 'degC' | 'degF', [number, string][]]>([
    [
      'tbmed507',
      'degF',
      [
        [77.9, 'below category 1'],
        [77.94, 'below category 1'],
        [77.95, 'category 1'],
        [78, 'category 1'],
        [81.9, 'category 1'],
        [81.95, 'category 2 (green)'],
        [82, 'category 2 (green)'],
        [84.9, 'category 2 (green)'],
        [85, 'category 3 (yellow)'],
        [87.9, 'category 3 (yellow)'],
        [88, 'category 4 (red)'],
        [89.9, 'category 4 (red)'],
        [89.94, 'category 4 (red)'],
        [89.95, 'category 5 (black)'],
        [90, 'category 5 (black)'],
        [90.1, 'category 5 (black)'],
      ],
    ],
    [
      'navmed_usmc',
      'degF',
      [
        [79.9, 'no flag'],
        [80, 'green'],
        [84.9, 'green'],
        [85, 'yellow'],
        [87.9, 'yellow'],
        [88, 'red'],
        [89.9, 'red'],
        [90, 'black'],
        [120, 'black'],
      ],
    ],
    [
      'acsm2007_training',
      'degF',
      [
        [-10, '<=50.0'],
        [50, '<=50.0'],
        [50.04, '<=50.0'],
        [50.05, '50.1-65.0'],
        [50.1, '50.1-65.0'],
        [65, '50.1-65.0'],
        [65.1, '65.1-72.0'],
        [72, '65.1-72.0'],
        [72.1, '72.1-78.0'],
        [78, '72.1-78.0'],
        [78.1, '78.1-82.0'],
        [82, '78.1-82.0'],
        [82.1, '82.1-86.0'],
        [86, '82.1-86.0'],
        [86.1, '86.1-90.0'],
        [90, '86.1-90.0'],
        [90.1, '>=90.1'],
      ],
    ],
    [
      'ghsa_2_67',
      'degF',
      [
        [81.9, 'under 82.0'],
        [82, '82.0-86.9'],
        [86.9, '82.0-86.9'],
        [87, '87.0-89.9'],
        [89.9, '87.0-89.9'],
        [90, '90.0-92.0'],
        [92, '90.0-92.0'],
        [92.04, '90.0-92.0'],
        [92.05, 'no outdoor workouts'],
        [92.1, 'no outdoor workouts'],
      ],
    ],
    [
      'fhsaa_41',
      'degF',
      [
        [81.9, 'under 82.0'],
        [82, '82.1-87.0'],
        [82.1, '82.1-87.0'],
        [87, '82.1-87.0'],
        [87.1, '87.1-90.0'],
        [90, '87.1-90.0'],
        [90.1, '90.1-92.0'],
        [92, '90.1-92.0'],
        [92.1, 'over 92.1'],
        [92.2, 'over 92.1'],
      ],
    ],
    [
      'acsm_race',
      'degC',
      [
        [9.9, 'white'],
        [10, 'green'],
        [17.9, 'green'],
        [18, 'yellow'],
        [22, 'yellow'],
        [22.9, 'yellow'],
        [23, 'red'],
        [28, 'red'],
        [28.04, 'red'],
        [28.05, 'black'],
        [28.1, 'black'],
      ],
    ],
    [
      'canadian_forces',
      'degC',
      [
        [19.9, 'below 20.0'],
        [20, '20.0-25.4'],
        [25.4, '20.0-25.4'],
        [25.5, '25.5-26.4'],
        [26.4, '25.5-26.4'],
        [26.5, '26.5-29.4'],
        [29.4, '26.5-29.4'],
        [29.5, '29.5-30.9'],
        [30.9, '29.5-30.9'],
        [31, '31.0-31.9'],
        [31.9, '31.0-31.9'],
        [32, '32.0 and above'],
      ],
    ],
  ])('%s', (table, scale, expected) => {
    const got = expected.map(([value]) => [value, at(table, degrees(value, scale)).band.id])
    expect(got).toEqual(expected)
  })

  test('a value in a hole of the source takes the hotter band and says so', () => {
    expect(at('tbmed507', degrees(90, 'degF'))).toMatchObject({ inHole: true, tenths: 900 })
    expect(at('fhsaa_41', degrees(82, 'degF')).inHole).toBe(true)
    expect(at('fhsaa_41', degrees(92.1, 'degF')).inHole).toBe(true)
    expect(at('navmed_usmc', degrees(90, 'degF')).inHole).toBe(false)
  })

  test('Celsius is looked up in the table’s own Fahrenheit, converted once', () => {
    // 27.8 °C is 82.04 °F and 32.2 °C is 89.96 °F: the printed Celsius column would say otherwise.
    expect(at('acsm2007_training', degrees(27.8, 'degC')).band.id).toBe('78.1-82.0')
    expect(at('acsm2007_training', degrees(32.2, 'degC')).band.id).toBe('86.1-90.0')
    expect(at('acsm2007_training', degrees(32.3, 'degC')).band.id).toBe('>=90.1')
    expect(at('navmed_usmc', degrees(32.2, 'degC')).band.id).toBe('black')
    expect(at('acsm_race', degrees(82.4, 'degF')).band.id).toBe('red')
    expect(at('acsm_race', degrees(82.5, 'degF')).band.id).toBe('black')
  })

  test('never a cooler band for a hotter reading, in any table', () => {
    for (const table of Object.values(publishedTables)) {
      let before = 0
      for (let one = -200; one <= 1300; one++) {
        const level = table.bands.indexOf(bandAt(one, table).band)
        if (level < before) expect.fail(`${table.id} at ${one}`)
        before = level
      }
      expect(before).toBe(table.bands.length - 1)
    }
  })

  test('readings in Fahrenheit and their tables meet as the screens have them', () => {
    const values = { naturalWetBulb: fahrenheit(78), globe: fahrenheit(110), dryBulb: fahrenheit(92) }
    expect(wbgtOf(reading({ values }), 'degF')?.tenths).toBe(858)
  })
})
