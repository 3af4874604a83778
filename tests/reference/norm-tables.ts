import type { NormPoint, NormTable } from '@musterbook/scoring/norms'
import { readdirSync, readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

/** One table of one group as the copies of the published norms keep it, values as printed. */
export interface PrintedTable {
  id: string
  test: string
  unit: string
  betterIs: 'higher' | 'lower'
  sex: 'male' | 'female'
  ageFrom: number
  ageTo: number | null
  points: (NormPoint & { provenance?: string })[]
  source: string
  population: string
  provenance: string
}

const folder = join(dirname(fileURLToPath(import.meta.url)), 'data', 'norms')

/** Every table of data/norms. Some hold values from memory: they stand here for tests only and are never offered for adoption. */
export const printedTables: readonly PrintedTable[] = readdirSync(folder).flatMap(
  (name) => JSON.parse(readFileSync(join(folder, name), 'utf8')) as PrintedTable[],
)

/** The table of one group, in the form in which scores look it up, with the values and the unit as printed. */
export function normTableById(id: string): NormTable {
  const printed = printedTables.find((table) => table.id === id)
  if (!printed) throw new Error(`no norm table ${id}`)
  const { test, unit, betterIs, source, population, sex, ageFrom, ageTo } = printed
  const points = printed.points.map(({ percentile, value }) => ({ percentile, value }))
  return {
    id,
    edition: id,
    test,
    unit,
    betterIs,
    source,
    population,
    invented: false,
    lookup: 'step',
    outsideAges: 'noNorm',
    groups: [{ sex: sex === 'male' ? 'M' : 'W', ageFrom, ageTo, points }],
  }
}
