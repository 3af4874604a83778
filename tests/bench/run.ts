/** `npm run -s bench [-- --json] [-- --report] [-- --only NAME,NAME]`: every budget as a ratio against the raw thing in the same run. */
import { writeFileSync } from 'node:fs'
import { cpus } from 'node:os'
import { fileURLToPath } from 'node:url'
import { parseArgs } from 'node:util'
import { budgets, costs, type Budget } from './benches.ts'
import type { Figure } from './figures.ts'
import type { Result } from './measure.ts'
import { report } from './report.ts'

const { values } = parseArgs({ options: { json: { type: 'boolean' }, report: { type: 'boolean' }, only: { type: 'string' } } })
const only = values.only?.split(',')
const names = [...budgets, ...costs].map(({ name }) => name)
const unknown = only?.filter((name) => !names.includes(name)) ?? []
if (unknown.length > 0) throw new Error(`nothing that is measured is called ${unknown.join(' or ')}; there are ${names.join(', ')}`)
const chosen = <Named extends { name: string }>(table: readonly Named[]) => table.filter(({ name }) => !only || only.includes(name))

const results: (Result & Pick<Budget, 'ifMissed'>)[] = []
for (const { name, measure, ifMissed } of chosen(budgets)) {
  results.push({ ...(await measure((step) => process.stderr.write(`\r${name}: ${step}   `))), ...(ifMissed && { ifMissed }) })
  process.stderr.write('\n')
}
const figures: Figure[] = []
for (const { name, measure } of chosen(costs)) {
  figures.push(...(await measure((step) => process.stderr.write(`\r${name}: ${step}   `))))
  process.stderr.write('\n')
}

if (values.json) {
  const measured = Object.fromEntries(results.map(({ name, ratio, aim, holds }) => [name, { ratio: round(ratio), aim, holds }]))
  console.log(JSON.stringify({ budgets: measured }))
} else {
  if (results.length > 0)
    console.table(
      results.map(({ name, ours, raw, unit, ratio, aim, holds }) => ({
        name,
        ours: round(ours),
        raw: round(raw),
        unit,
        ratio: round(ratio),
        aim,
        holds,
      })),
    )
  if (figures.length > 0) console.table(figures.map(({ what, value, unit }) => ({ what, value: round(value), unit })))
}
if (values.report) {
  const machine = `${cpus().length} × ${cpus()[0]?.model ?? 'unknown processor'}, Node ${process.version}, ${process.platform}`
  writeFileSync(fileURLToPath(new URL('./report.md', import.meta.url)), report(results, figures, machine))
}

function round(value: number): number {
  return Number(value.toPrecision(3))
}
