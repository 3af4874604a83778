import fc from 'fast-check'
import { expect, test } from 'vitest'
import { localNorms, type LocalPlan, type LocalResult, neededFor } from './local-norms.ts'
import { normTableProblems } from './norms.ts'

const plan: LocalPlan = {
  id: 'local',
  edition: '2027',
  test: 'run',
  unit: 'wholeSeconds',
  betterIs: 'lower',
  method: 'type7',
  percentiles: [5, 10, 25, 50, 75, 90, 95],
  groups: [{ sex: 'M', ageFrom: 20, ageTo: 29 }],
  plausible: { min: 420, max: 1500 },
}
const men = (values: number[]): LocalResult[] => values.map((value) => ({ value, sex: 'M', ageYears: 25 }))
const upTo = (n: number) => men(Array.from({ length: n }, (_, index) => 600 + index))

test('small groups are refused, percentile by percentile', () => {
  expect([95, 90, 75, 50].map(neededFor)).toEqual([100, 50, 20, 10])
  const published = (n: number) => localNorms(upTo(n), plan).groups[0]?.points.map((point) => point.percentile)
  expect([9, 19, 20, 49, 50, 99, 100].map(published)).toEqual([
    [],
    [50],
    [75, 50, 25],
    [75, 50, 25],
    [90, 75, 50, 25, 10],
    [90, 75, 50, 25, 10],
    [95, 90, 75, 50, 25, 10, 5],
  ])
  expect(localNorms(upTo(20), plan).groups[0]?.refused).toContainEqual({ percentile: 95, needs: 100 })
  expect(localNorms(upTo(9), plan).table.groups).toEqual([])
})

test('lower is better: the 90th percentile is the fast tail', () => {
  const [group] = localNorms(upTo(101), plan).groups
  expect(group?.points.find((point) => point.percentile === 90)).toMatchObject({ value: 610 })
  expect(group?.points.find((point) => point.percentile === 50)).toMatchObject({ value: 650, between: [640, 660] })
})

test('an impossible value is listed for a person and stays in until someone rules', () => {
  const results = [...upTo(100), ...men([99_999])]
  const [group] = localNorms(results, plan).groups
  expect(group).toMatchObject({ n: 101, implausible: [99_999] })
})

test('only the group’s own people count', () => {
  const others: LocalResult[] = [
    { value: 1, sex: 'W', ageYears: 25 },
    { value: 1, sex: 'M', ageYears: 19 },
    { value: 1, sex: 'M', ageYears: 30 },
  ]
  expect(localNorms([...upTo(20), ...others], plan).groups[0]?.n).toBe(20)
})

test('whatever the records, the table that comes out could be adopted', () => {
  fc.assert(
    fc.property(
      fc.array(fc.integer({ min: 500, max: 560 }), { minLength: 20, maxLength: 200 }),
      fc.constantFrom('type7' as const, 'harrellDavis' as const),
      fc.constantFrom('lower' as const, 'higher' as const),
      (values, method, betterIs) => {
        expect(normTableProblems(localNorms(men(values), { ...plan, method, betterIs }).table)).toEqual([])
      },
    ),
    { numRuns: 200 },
  )
})
