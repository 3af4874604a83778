/** `npm run -s bench [-- --json] [-- --report] [-- --only NAME]`: every budget as a ratio against the raw thing in the same run. */
import { writeFileSync } from 'node:fs'
import { cpus } from 'node:os'
import { fileURLToPath } from 'node:url'
import { parseArgs } from 'node:util'
import { appendNats, appendNatsOnThree } from './append-nats.ts'
import { appendOne } from './append-decided.ts'
import { appendLedger, appendMany } from './append-sqlite.ts'
import { figures } from './figures.ts'
import { firstLoad } from './first-load.ts'
import { flatCost } from './flat-cost.ts'
import { fold } from './fold.ts'
import { library } from './library.ts'
import { liveView } from './live-view.ts'
import { hold, holdWorst, type Contest, type Result } from './measure.ts'
import { report } from './report.ts'

type Measure = (progress: (round: number) => void) => Promise<Result>
const contest = (one: Contest): [string, Measure] => [one.name, (progress) => hold(one, progress)]

const budgets = new Map<string, Measure>([
  contest(appendOne),
  contest(appendLedger),
  contest(appendMany),
  contest(appendNats),
  contest(appendNatsOnThree),
  contest(fold),
  ['liveView', liveView],
  [flatCost.name, (progress) => holdWorst(flatCost, progress)],
  ['firstLoad', firstLoad],
  contest(library),
])

const { values } = parseArgs({ options: { json: { type: 'boolean' }, report: { type: 'boolean' }, only: { type: 'string' } } })
const chosen = [...budgets].filter(([name]) => values.only === undefined || name === values.only)
if (chosen.length === 0) throw new Error(`no budget is called ${values.only}; there are ${[...budgets.keys()].join(', ')}`)

const results: Result[] = []
for (const [name, measure] of chosen) {
  results.push(await measure((round) => process.stderr.write(`\r${name}: round ${round} of 7   `)))
  process.stderr.write('\n')
}
const more = values.only === undefined ? await figures((what) => process.stderr.write(`${what}\n`)) : []
if (values.json) {
  const measured = Object.fromEntries(results.map(({ name, ratio, aim, holds }) => [name, { ratio: round(ratio), aim, holds }]))
  console.log(JSON.stringify({ budgets: measured }))
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
