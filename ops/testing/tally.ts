import { readFileSync } from 'node:fs'

/** How many checks came out how, in one runner or over all. */
export interface Tally {
  passed: number
  failed: number
  skipped: number
}

export const sum = (tallies: readonly Tally[]): Tally =>
  tallies.reduce((all, one) => ({ passed: all.passed + one.passed, failed: all.failed + one.failed, skipped: all.skipped + one.skipped }), {
    passed: 0,
    failed: 0,
    skipped: 0,
  })

export const lineOf = ({ passed, failed, skipped }: Tally): string => `${passed} passed, ${failed} failed, ${skipped} skipped`

interface VitestReport {
  numPassedTests: number
  numFailedTests: number
  numPendingTests: number
  numTodoTests: number
  testResults: { status: string; assertionResults: { status: string }[] }[]
}

/** Counts a Vitest run from its JSON report. A file that failed beside its tests (it could not be read, or what it
 * prepares broke) counts as failed, and so does a run that ended badly without saying where. */
export function tallyOfVitest(report: VitestReport, exitCode: number | null): Tally {
  const broken = report.testResults.filter(
    ({ status, assertionResults }) => status === 'failed' && !assertionResults.some((one) => one.status === 'failed'),
  ).length
  const failed = report.numFailedTests + broken
  return {
    passed: report.numPassedTests,
    failed: failed === 0 && exitCode !== 0 ? 1 : failed,
    skipped: report.numPendingTests + report.numTodoTests,
  }
}

export function readVitestReport(file: string): VitestReport {
  return JSON.parse(readFileSync(file, 'utf8')) as VitestReport
}
