/** `npm run -s bench [-- --json] [-- --report] [-- --only NAME]`: every budget as a ratio against the raw thing in the same run. */
import { writeFileSync } from 'node:fs'
import { cpus } from 'node:os'
import { fileURLToPath } from 'node:url'
import { parseArgs } from 'node:util'
import { appendNats, appendNatsOnThree } from './append-nats.ts'
import { appendMany, appendOne } from './append-sqlite.ts'
import { figures } from './figures.ts'
import { flatAppend } from './flat-append.ts'
import { fold } from './fold.ts'
import { hold, type Result } from './measure.ts'
import { report } from './report.ts'

const contests = [appendOne, appendMany, flatAppend, fold, appendNats, appendNatsOnThree]

const { values } = parseArgs({ options: { json: { type: 'boolean' }, report: { type: 'boolean' }, only: { type: 'string' } } })
const chosen = contests.filter(({ name }) => values.only === undefined || name === values.only)
if (chosen.length === 0) throw new Error(`no budget is called ${values.only}; there are ${contests.map(({ name }) => name).join(', ')}`)

const results: Result[] = []
for (const contest of chosen) {
  results.push(await hold(contest, (round) => process.stderr.write(`\r${contest.name}: round ${round} of 7   `)))
  process.stderr.write('\n')
}
const more = values.only === undefined ? await figures((what) => process.stderr.write(`${what}\n`)) : []
if (values.json) {
  const budgets = Object.fromEntries(results.map(({ name, ratio, aim, holds }) => [name, { ratio: round(ratio), aim, holds }]))
  console.log(JSON.stringify({ budgets }))
} else {
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
}
if (values.report) {
  const machine = `${cpus().length} × ${cpus()[0]?.model ?? 'unknown processor'}, Node ${process.version}, ${process.platform}`
  writeFileSync(fileURLToPath(new URL('./report.md', import.meta.url)), report(results, more, machine))
}

function round(value: number): number {
  return Number(value.toPrecision(3))
}
