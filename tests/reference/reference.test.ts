import { readdirSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { describe, expect, test } from 'vitest'
import { type Check, checksOf } from './check.ts'
import { miss } from './compare.ts'
import { runChecks, runFiles } from './runner.ts'

const data = join(dirname(fileURLToPath(import.meta.url)), 'data')
const files = readdirSync(data).filter((name) => name.endsWith('.json'))

describe('published numbers', () => {
  test.each(files)('%s is met in every check', (name) => {
    const outcome = runFiles([join(data, name)])
    expect(outcome.misses).toEqual([])
    expect(outcome.passed).toBeGreaterThan(0)
  })
})

describe('the runner itself', () => {
  const check = (over: Partial<Check>): Check => ({
    id: 'invented',
    quantity: 'wbgt_indoor',
    inputs: { natural_wet_bulb: { value: 20, unit: 'degC' }, globe: { value: 30, unit: 'degC' } },
    expected: { value: 23, unit: 'degC' },
    tolerance: 0,
    source: '0.7 of 20 and 0.3 of 30, by hand',
    ...over,
  })

  test('fails a quantity that nobody computes', () => {
    const outcome = runChecks([check({ quantity: 'toString' }), check({})], 'here')
    expect(outcome).toMatchObject({ passed: 1, failed: 1 })
    expect(outcome.misses[0]).toContain('unknown quantity')
  })

  test('fails a wrong number, saying expected, got and tolerance', () => {
    const outcome = runChecks([check({ expected: { value: 24, unit: 'degC' }, tolerance: 0.5 })], 'here')
    expect(outcome.misses[0]).toContain('expected {"value":24,"unit":"degC"}, got {"value":23,"unit":"degC"}, tolerance 0.5')
  })

  test('fails a check whose input is not there', () => {
    expect(runChecks([check({ inputs: {} })], 'here')).toMatchObject({ passed: 0, failed: 1 })
  })

  test('fails a file that is not there', () => {
    expect(runFiles(['nowhere.json'])).toMatchObject({ passed: 0, failed: 1 })
  })

  test('reads the quantiles of a data set, and fails when its group is not the one that was counted', () => {
    const rows = [
      { sex: 'f', jump: '1' },
      { sex: 'm', jump: '9' },
      { sex: 'F', jump: '3' },
    ]
    const item = { dataset: 'invented.csv', column: 'jump', sex: 'F', n: 2, quantile: 0.5, value: 2 }
    const file = (over: object) => checksOf({ tolerance: 0, items: [{ ...item, ...over }] }, () => rows)
    expect(runChecks(file({}), 'here')).toMatchObject({ passed: 1 })
    expect(runChecks(file({ n: 3 }), 'here').misses[0]).toContain('2 rows')
    expect(() => checksOf({ tolerance: 0 }, () => rows)).toThrow('neither')
  })

  test.each([
    [{ value: 3, unit: 'degC' }, { value: 3, unit: 'degF' }, 1],
    [{ value: 3, unit: 'degC' }, { value: Number.NaN, unit: 'degC' }, 1],
    [null, 0, 0],
    [null, undefined, 0],
    [false, null, 'exact' as const],
    [[1, 2], [1], 0],
    [{ a: 1 }, { a: 1, b: 2 }, 0],
    ['green', 'yellow', 'exact' as const],
    [1, '1', 0],
    [1, 1.0100001, 0.01],
  ])('%j is not %j', (expected, got, tolerance) => {
    expect(miss(expected, got, tolerance)).toBeDefined()
  })

  test.each([
    [{ value: 3, unit: 'degC' }, { value: 3.05, unit: 'degC' }, 0.05],
    [{ value: '>=90.1', unit: 'band' }, '>= 90.1', 'exact' as const],
    [9.144, 30 * 0.3048, 0],
    [[1, null], [1, null], 0],
  ])('%j is met by %j', (expected, got, tolerance) => {
    expect(miss(expected, got, tolerance)).toBeUndefined()
  })
})
