/** `npm run -s faults [-- --rounds 200]`: the long form of the fault runs, with progress and a table at the end. */
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { parseArgs } from 'node:util'
import { bentCopies } from './bent-copies.ts'
import { killed, leaderFaults, paused } from './cluster-faults.ts'
import { diskFull, failingDisk } from './disk-full.ts'
import type { Findings } from './findings.ts'
import { killWriter, pauseWriter } from './kill-writer.ts'
import { powerLoss } from './power-loss.ts'
import { seeded } from './seeded.ts'

const { values } = parseArgs({
  options: { rounds: { type: 'string', default: '200' }, seed: { type: 'string', default: String(Date.now() % 1e9) } },
})
const rounds = Number(values.rounds)
const few = Math.max(1, Math.round(rounds / 10))
const folder = mkdtempSync(join(tmpdir(), 'faults-'))
console.log(`seed ${values.seed}`)

const runs: [name: string, run: (progress: (round: number) => void) => Findings | Promise<Findings>][] = [
  ['kill -9 of the SQLite writer', (progress) => killWriter(folder, rounds, progress)],
  ['pause of the SQLite writer', () => pauseWriter(folder)],
  ['torn or bent copies of the file', (progress) => bentCopies(folder, rounds * 50, seeded(Number(values.seed)), progress)],
  ['power loss under SQLite', (progress) => powerLoss(folder, rounds * 5, seeded(Number(values.seed)), progress)],
  ['disk full under SQLite', () => diskFull(folder)],
  ['disk that fails under SQLite', () => failingDisk(folder)],
  ['kill -9 of one NATS server', (progress) => leaderFaults(1, few, killed, progress)],
  ['kill -9 of the leader of three', (progress) => leaderFaults(3, few, killed, progress)],
  ['pause of the leader of three', (progress) => leaderFaults(3, few, paused, progress)],
]

const table: object[] = []
let failed = 0
for (const [name, run] of runs) {
  const started = performance.now()
  const findings = await run((round) => process.stderr.write(`\r${name}: round ${round}   `))
  process.stderr.write('\n')
  for (const fault of findings.faults) console.log(`  ${name}: ${fault}`)
  failed += findings.faults.length > 0 ? 1 : 0
  const { faults, ...counts } = findings
  table.push({ name, ...counts, 'broken promises': faults.length, seconds: Math.round((performance.now() - started) / 1000) })
}
console.table(table)
console.log(`${runs.length - failed} passed, ${failed} failed`)
rmSync(folder, { recursive: true })
process.exitCode = failed > 0 ? 1 : 0
