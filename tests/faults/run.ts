/**
 * `npm run -s faults [-- --only WORDS] [-- --short] [-- --seed N]`: the fault runs in their long form, or in the one of `npm test`, with progress
 * and a table at the end. `--only` takes the rows whose name has all of its words.
 */
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { parseArgs } from 'node:util'
import { rows } from './rows.ts'

const { values } = parseArgs({
  options: {
    only: { type: 'string', default: '' },
    short: { type: 'boolean', default: false },
    seed: { type: 'string', default: String(Date.now() % 1e9) },
  },
})
const words = values.only.split(/\s+/).filter(Boolean)
const asked = rows.filter(({ name }) => words.every((word) => name.includes(word)))
const seed = Number(values.seed)
if (asked.length === 0 || !Number.isSafeInteger(seed)) {
  console.error(
    asked.length === 0 ? `No row has all of these words. The rows: ${rows.map(({ name }) => name).join('; ')}.` : '--seed is a number.',
  )
  process.exit(1)
}

const folder = mkdtempSync(join(tmpdir(), 'faults-'))
console.log(`seed ${seed}`)
const table: object[] = []
let failed = 0
for (const { name, long, short, run } of asked) {
  const started = performance.now()
  const rounds = values.short ? short : long
  const seconds = () => Math.round((performance.now() - started) / 1000)
  const progress = (round: number) => process.stderr.write(`\r${name}: ${round} of ${rounds}, ${seconds()} s   `)
  const findings = await run({ rounds, folder, seed, progress })
  process.stderr.write('\n')
  if (findings.also) console.log(`  ${name}: ${findings.also}`)
  for (const fault of findings.faults) console.log(`  ${name}: ${fault}`)
  failed += findings.faults.length > 0 ? 1 : 0
  const { faults, asked: commands, acknowledged, lost, doubled, refused, unknown } = findings
  table.push({
    fault: name,
    rounds: findings.rounds,
    asked: commands,
    acknowledged,
    lost,
    doubled,
    refused,
    unknown,
    'broken promises': faults.length,
    seconds: seconds(),
  })
}
console.table(table)
console.log(`${asked.length - failed} passed, ${failed} failed`)
rmSync(folder, { recursive: true })
process.exitCode = failed > 0 ? 1 : 0
