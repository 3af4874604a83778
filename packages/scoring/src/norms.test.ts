import fc from 'fast-check'
import { expect, test } from 'vitest'
import { demoTable, tableOf } from './controls.ts'
import { demoNorms } from './demo-norms.ts'
import { normGroup, type NormPoint, normTableContent, normTableProblems, ordinal, percentileOf, sayGroup } from './norms.ts'
import { publishedNorms } from './published-norms.ts'

const place = (test: string, sex: 'M' | 'W', ageYears: number, value: number) => {
  const table = demoTable(test)
  return percentileOf(value, table, normGroup(table, { sex, ageYears })).label
}

test.each([
  ['benchPress', 'W', 24, 72, '70th'],
  ['benchPress', 'W', 24, 71, '60th'],
  ['agility', 'W', 24, 187, '60th'],
  ['sitAndReach', 'W', 24, 335, '50th'],
  ['run', 'W', 24, 786, '60th'],
  ['run', 'W', 24, 751, '70th'],
  ['run', 'M', 24, 729, '50th'],
  ['run', 'M', 24, 862, '10th'],
  ['run', 'M', 24, 732, '50th'],
  ['run', 'M', 30, 725, '60th'],
  ['run', 'M', 29, 725, '50th'],
  ['run', 'M', 24, 740, '50th'],
  ['run', 'M', 24, 741, '40th'],
  ['run', 'M', 24, 900, '10th'],
  ['run', 'M', 24, 901, 'below 10th'],
  ['run', 'M', 24, 400, '90th'],
  ['benchPress', 'M', 25, 109, '50th'],
  ['benchPress', 'M', 25, 112, '60th'],
  ['run', 'M', 19, 700, 'no norm'],
  ['run', 'W', 40, 700, 'no norm'],
] as const)('%s of %s at %i: %i stands at %s', (station, sex, age, value, label) => {
  expect(place(station, sex, age, value)).toBe(label)
})

test('FX-1 is evenly spaced as it was invented', () => {
  const firstAndLast = demoNorms.map((table) => [table.test, ...table.groups.map(({ points }) => [points[0]?.value, points.at(-1)?.value])])
  expect(firstAndLast).toEqual([
    ['run', [580, 900], [610, 930], [680, 1000], [710, 1030]],
    ['agility', [160, 200], [164, 204], [175, 215], [179, 219]],
    ['sitAndReach', [420, 180], [405, 165], [450, 210], [435, 195]],
    ['benchPress', [140, 60], [134, 54], [86, 30], [82, 26]],
    ['skinfold', [90, 250], [110, 270], [170, 330], [190, 350]],
  ])
  expect(demoNorms.every((table) => table.invented && table.edition === 'FX-1')).toBe(true)
})

test.each([...demoNorms, ...publishedNorms])('$id could be adopted as it stands', (table) => {
  expect(normTableProblems(table)).toEqual([])
})

test('a table that contradicts itself cannot be adopted, and says where', () => {
  const upsideDown = tableOf([
    { percentile: 50, value: 10 },
    { percentile: 90, value: 20 },
  ])
  expect(normTableProblems(upsideDown)).toEqual(['any 18+: rows must stand from the best percentile to the worst, and values with them'])
  const twice = {
    ...demoTable('run'),
    groups: [...demoTable('run').groups, { sex: 'any' as const, ageFrom: 39, ageTo: 45, points: [{ percentile: 50, value: 1 }] }],
  }
  expect(normTableProblems(twice)).toEqual(['M30–39 and any 39–45 overlap', 'W30–39 and any 39–45 overlap'])
  expect(normTableProblems(tableOf([{ percentile: 100, value: NaN }]))).toHaveLength(2)
  expect(normTableProblems(tableOf([]))).toEqual(['any 18+: no rows'])
})

test('an age that no group covers has no norm, or the nearest group where the table says so', () => {
  const nearest = { ...demoTable('run'), outsideAges: 'nearestGroup' as const }
  const said = (ageYears: number) =>
    sayGroup(normGroup(nearest, { sex: 'W', ageYears }) ?? { sex: 'any', ageFrom: 0, ageTo: 0, points: [] })
  expect([17, 25, 44].map(said)).toEqual(['W20–29', 'W20–29', 'W30–39'])
})

test('of equal rows the higher percentile, by either look-up', () => {
  const points = [
    { percentile: 80, value: 19 },
    { percentile: 70, value: 17 },
    { percentile: 60, value: 17 },
    { percentile: 50, value: 15 },
  ]
  for (const lookup of ['step', 'linear'] as const) {
    const table = tableOf(points, { lookup })
    expect(percentileOf(17, table, table.groups[0])).toMatchObject({ percentile: 70, label: '70th' })
  }
  const linear = tableOf(points, { lookup: 'linear' })
  expect(percentileOf(16, linear, linear.groups[0]).percentile).toBe(55)
  expect(percentileOf(18, linear, linear.groups[0]).percentile).toBe(75)
})

test('between rows a label never claims more than was reached, and beyond the best there is no number', () => {
  const table = tableOf(
    [
      { percentile: 99, value: 502 },
      { percentile: 60, value: 687 },
      { percentile: 50, value: 718 },
    ],
    { lookup: 'linear', betterIs: 'lower' },
  )
  expect(percentileOf(700, table, table.groups[0])).toMatchObject({ label: '55th' })
  expect(percentileOf(480, table, table.groups[0])).toMatchObject({ percentile: null, label: '99th or better' })
  expect(percentileOf(502, table, table.groups[0])).toMatchObject({ percentile: 99, label: '99th' })
  expect(percentileOf(719, table, table.groups[0])).toMatchObject({ percentile: null, label: 'below 50th' })
})

test('ordinals', () => {
  expect([1, 2, 3, 4, 11, 12, 13, 21, 22, 70, 93].map(ordinal)).toEqual('1st 2nd 3rd 4th 11th 12th 13th 21st 22nd 70th 93rd'.split(' '))
})

const rows = fc
  .uniqueArray(fc.integer({ min: 1, max: 99 }), { minLength: 2, maxLength: 19 })
  .chain((percentiles) =>
    fc.tuple(fc.constant(percentiles), fc.array(fc.nat(500), { minLength: percentiles.length, maxLength: percentiles.length })),
  )
  .map(([percentiles, values]): NormPoint[] => {
    const best = [...values].sort((a, b) => b - a)
    return [...percentiles].sort((a, b) => b - a).map((percentile, index) => ({ percentile, value: best[index] ?? 0 }))
  })
const lookup = fc.constantFrom('step', 'linear') as fc.Arbitrary<'step' | 'linear'>

test('a better value never stands lower, whichever way is better and however it is looked up', () => {
  fc.assert(
    fc.property(rows, lookup, fc.boolean(), fc.nat(600), fc.nat(100), (points, how, isLower, value, more) => {
      const turned = isLower ? points.map((point) => ({ ...point, value: -point.value })) : points
      const table = tableOf(turned, { lookup: how, betterIs: isLower ? 'lower' : 'higher' })
      const sign = isLower ? -1 : 1
      const standing = (reached: number) => {
        const { percentile, label } = percentileOf(sign * reached, table, table.groups[0])
        return percentile ?? (label.startsWith('below') ? 0 : 100)
      }
      expect(standing(value + more)).toBeGreaterThanOrEqual(standing(value))
    }),
    { numRuns: 3000 },
  )
})

test('turning the direction and the sign of every value changes nothing', () => {
  fc.assert(
    fc.property(rows, lookup, fc.nat(600), (points, how, value) => {
      const up = tableOf(points, { lookup: how })
      const down = tableOf(
        points.map((point) => ({ ...point, value: -point.value })),
        { lookup: how, betterIs: 'lower' },
      )
      expect(percentileOf(-value, down, down.groups[0]).label).toBe(percentileOf(value, up, up.groups[0]).label)
    }),
  )
})

test('by steps a percentile is always one that is printed; between rows it never leaves its neighbours', () => {
  fc.assert(
    fc.property(rows, fc.nat(600), (points, value) => {
      const step = tableOf(points)
      const linear = tableOf(points, { lookup: 'linear' })
      const byStep = percentileOf(value, step, step.groups[0]).percentile
      const between = percentileOf(value, linear, linear.groups[0]).percentile
      if (byStep !== null) expect(points.map((point) => point.percentile)).toContain(byStep)
      if (byStep !== null && between !== null) expect(between).toBeGreaterThanOrEqual(byStep)
    }),
  )
})

test('an adoption changes nothing that its checksum covers', () => {
  const adopted = {
    ...demoTable('run'),
    adoption: { adopters: ['one', 'other'] as const, adoptedOn: '2027-05-01', checksum: 'of the content' },
  }
  expect(normTableContent(adopted)).toEqual(demoTable('run'))
})
