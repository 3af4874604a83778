import { readdirSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { describe, expect, test } from 'vitest'
import type { Check } from './check.ts'
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
    quantity: 'dataset.rows',
    inputs: { values: [1, 2, 3] },
    expected: 3,
    tolerance: 'exact',
    source: 'counted by hand',
    ...over,
  })

  test('fails a quantity that nobody computes', () => {
    const outcome = runChecks([check({ quantity: 'toString' }), check({})], 'here')
    expect(outcome).toMatchObject({ passed: 1, failed: 1 })
    expect(outcome.misses[0]).toContain('unknown quantity')
  })

  test('fails a wrong number, saying expected, got and tolerance', () => {
    const outcome = runChecks([check({ expected: 4, tolerance: 0.5 })], 'here')
    expect(outcome.misses[0]).toContain('expected 4, got 3, tolerance 0.5')
  })

  test('fails a file that is not there, and a data set that is not there', () => {
    expect(runFiles(['nowhere.json'])).toMatchObject({ passed: 0, failed: 1 })
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
