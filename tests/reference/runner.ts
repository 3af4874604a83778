import { readFileSync, readdirSync } from 'node:fs'
import { basename, dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { type Check, checksOf, type Quantities } from './check.ts'
import { miss } from './compare.ts'
import { quantities as fitness } from './fitness.ts'
import { quantities as heat } from './heat.ts'

/** A quantile of a group of a data set: that of its values, once the group is the one that the publisher counted. */
const ofDataSets: Quantities = {
  'dataset.quantile': ({ values, p, rowsCounted }, check) => {
    const rows = (values as unknown[]).length
    if (rowsCounted !== undefined && rows !== rowsCounted) throw new Error(`${rows} rows, but its publisher counted ${String(rowsCounted)}`)
    return fitness['quantile.type7']?.({ values, p }, check)
  },
}

const quantities: Quantities = { ...heat, ...fitness, ...ofDataSets }

export interface Outcome {
  passed: number
  failed: number
  /** One line for each check that was not met: what was expected, what was got, how near it had to be. */
  misses: string[]
}

/** Runs every check of these files. A file that cannot be read, like a quantity that nobody computes, is a failure. */
export function runFiles(files: readonly string[]): Outcome {
  return files
    .map(runFile)
    .reduce((sum, one) => ({ passed: sum.passed + one.passed, failed: sum.failed + one.failed, misses: [...sum.misses, ...one.misses] }), {
      passed: 0,
      failed: 0,
      misses: [],
    })
}

function runFile(file: string): Outcome {
  try {
    return runChecks(checksOf(JSON.parse(readFileSync(file, 'utf8')), rowsOfDataSet), basename(file))
  } catch (cause) {
    return { passed: 0, failed: 1, misses: [`MISS ${basename(file)}: ${(cause as Error).message}`] }
  }
}

export function runChecks(checks: readonly Check[], from: string): Outcome {
  const misses = checks.map((check) => runCheck(check, from)).filter((line) => line !== undefined)
  return { passed: checks.length - misses.length, failed: misses.length, misses }
}

function runCheck(check: Check, from: string): string | undefined {
  const compute = Object.hasOwn(quantities, check.quantity) ? quantities[check.quantity] : undefined
  const says = (got: string, why: string) =>
    `MISS ${from} ${check.id} ${check.quantity}: expected ${JSON.stringify(check.expected)}, got ${got}, tolerance ${check.tolerance} (${why})`
  if (!compute) return says('nothing', 'unknown quantity')
  try {
    const got = compute(check.inputs, check)
    const why = miss(check.expected, got, check.tolerance)
    return why === undefined ? undefined : says(JSON.stringify(got) ?? 'nothing', why)
  } catch (cause) {
    return says('an error', (cause as Error).message)
  }
}

const here = dirname(fileURLToPath(import.meta.url))
const dataSets = new Map<string, Record<string, string>[]>()

/** A data set by its file name, wherever it stands under this folder. */
function rowsOfDataSet(name: string): Record<string, string>[] {
  const known = dataSets.get(name)
  if (known) return known
  const path = readdirSync(here, { recursive: true, encoding: 'utf8' }).find((entry) => basename(entry) === name)
  if (path === undefined) throw new Error(`no data set ${name}`)
  const rows = rowsOf(readFileSync(join(here, path), 'utf8'), name)
  dataSets.set(name, rows)
  return rows
}

/** The two data sets are plain tables without quotation marks; anything else is turned away rather than misread. */
function rowsOf(text: string, name: string): Record<string, string>[] {
  const [header, ...lines] = text.split(/\r?\n/).filter((line) => line !== '')
  const columns = header?.split(',') ?? []
  return lines.map((line, index) => {
    const cells = line.split(',')
    if (line.includes('"') || cells.length !== columns.length) throw new Error(`${name}, row ${index + 2}: not a plain row`)
    return Object.fromEntries(columns.map((column, position) => [column, cells[position] ?? '']))
  })
}
