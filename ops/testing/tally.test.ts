import { expect, test } from 'vitest'
import { lineOf, sum, tallyOfVitest } from './tally.ts'

const report = (changes: object = {}) => ({
  numPassedTests: 3,
  numFailedTests: 0,
  numPendingTests: 0,
  numTodoTests: 0,
  testResults: [],
  ...changes,
})

test('counted over all runners', () => {
  expect(
    lineOf(
      sum([
        { passed: 3, failed: 0, skipped: 1 },
        { passed: 1, failed: 2, skipped: 0 },
      ]),
    ),
  ).toBe('4 passed, 2 failed, 1 skipped')
})

test('a skipped and a promised test are said, never swallowed', () => {
  expect(tallyOfVitest(report({ numPendingTests: 1, numTodoTests: 1 }), 0)).toEqual({ passed: 3, failed: 0, skipped: 2 })
})

test('a file that could not be read counts as failed', () => {
  expect(tallyOfVitest(report({ testResults: [{ status: 'failed', assertionResults: [] }] }), 1).failed).toBe(1)
})

test('a file whose preparation broke counts as failed, and its tests as skipped', () => {
  const broken = { status: 'failed', assertionResults: [{ status: 'skipped' }] }
  const failed = { status: 'failed', assertionResults: [{ status: 'failed' }] }
  expect(tallyOfVitest(report({ numFailedTests: 1, numPendingTests: 1, testResults: [broken, failed] }), 1)).toEqual({
    passed: 3,
    failed: 2,
    skipped: 1,
  })
})

test('a run that ended badly without a failed test counts as failed', () => {
  expect(tallyOfVitest(report(), 1).failed).toBe(1)
  expect(tallyOfVitest(report(), null).failed).toBe(1)
})
