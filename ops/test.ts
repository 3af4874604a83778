import { spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { buildScreens } from './screens.ts'
import { missing } from './testing/needs.ts'
import { lineOf, readVitestReport, sum, tallyOfVitest, type Tally } from './testing/tally.ts'

const house = fileURLToPath(new URL('..', import.meta.url))
const say = (line: string) => console.log(line)

/** What must hold beside the tests. Each counts as one. */
const checks = [
  { name: 'Types fit', run: ['tsc', '--noEmit'] },
  { name: 'The linter finds nothing: imports run one way, the core is pure', run: ['eslint', '.'] },
  { name: 'No code is unused', run: ['knip'] },
  { name: 'The format is one', run: ['prettier', '--check', '.', '--log-level', 'warn'] },
]

const toInstall = missing(say)
if (toInstall.length > 0) {
  say('The tests need what this machine lacks:')
  for (const one of toInstall) say(`  - ${one}`)
  say(lineOf({ passed: 0, failed: toInstall.length, skipped: 0 }))
  process.exit(1)
}

const total = sum([await build(), ...checks.map(check), vitest()])
say(lineOf(total))
process.exitCode = total.failed > 0 ? 1 : 0

/** Journeys walk through the screens as they are served. */
async function build(): Promise<Tally> {
  const begun = performance.now()
  const name = 'The screens build'
  try {
    await buildScreens()
    say(`passed  ${name} (${seconds(begun)} s)`)
    return { passed: 1, failed: 0, skipped: 0 }
  } catch (error) {
    say(`FAILED  ${name} (${seconds(begun)} s)\n${String(error)}`)
    return { passed: 0, failed: 1, skipped: 0 }
  }
}

function check({ name, run }: (typeof checks)[number]): Tally {
  const begun = performance.now()
  const { status, stdout, stderr } = spawnSync(program(run[0]!), run.slice(1), {
    cwd: house,
    encoding: 'utf8',
    maxBuffer: 64 * 1024 * 1024,
  })
  say(`${status === 0 ? 'passed' : 'FAILED'}  ${name} (${seconds(begun)} s)`)
  if (status !== 0) say(`${stdout}${stderr}`.trimEnd())
  return { passed: status === 0 ? 1 : 0, failed: status === 0 ? 0 : 1, skipped: 0 }
}

/** Every Vitest project, told on the screen as it goes and counted from its report. */
function vitest(): Tally {
  const folder = mkdtempSync(join(tmpdir(), 'musterbook-test-'))
  const report = join(folder, 'report.json')
  try {
    const { status } = spawnSync(program('vitest'), ['run', '--reporter=default', '--reporter=json', `--outputFile.json=${report}`], {
      cwd: house,
      stdio: 'inherit',
    })
    return tallyOfVitest(readVitestReport(report), status)
  } catch (error) {
    say(`The test runner left no report: ${String(error)}`)
    return { passed: 0, failed: 1, skipped: 0 }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

function program(name: string): string {
  return join(house, 'node_modules', '.bin', name)
}

function seconds(since: number): string {
  return ((performance.now() - since) / 1000).toFixed(1)
}
