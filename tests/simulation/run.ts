import { fork, type ChildProcess } from 'node:child_process'
import { availableParallelism } from 'node:os'
import { fileURLToPath } from 'node:url'
import { parseArgs } from 'node:util'
import { build } from 'vite'
import type { Lived } from './worker.ts'

/*
 * Whole test days in virtual time, one a seed: `npm run -s simulate -- --first 1 --seeds 1000 [--students 40]`.
 * A seed that breaks a promise is printed with the shortest failing prefix of its steps; run it alone to see it again.
 */

const { values } = parseArgs({
  options: {
    first: { type: 'string', default: '1' },
    seeds: { type: 'string', default: '100' },
    students: { type: 'string', default: '40' },
    processes: { type: 'string', default: String(Math.min(8, availableParallelism())) },
  },
})
const [first, seeds, students, processes] = [values.first, values.seeds, values.students, values.processes].map(wholeNumber) as [
  number,
  number,
  number,
  number,
]

const begun = performance.now()
const lived = new Map<number, Lived>()
let next = first
let failed = 0
let entries = 0
let crashes = 0
let saidAt = begun

const worker = await compiled()
const workers = await Promise.all(Array.from({ length: Math.min(processes, seeds) }, startWorker))
await Promise.all(workers.map(work))
await liveFirstAgain()
for (const worker of workers) worker.disconnect()
const minutes = (performance.now() - begun) / 60_000
console.log(
  `${seeds} days of ${students} students, ${entries} entries, ${crashes} crashes, ${processes} processes: ${Math.round(seeds / minutes)} days a minute`,
)
console.log(`${seeds - failed} passed, ${failed} failed`)
process.exitCode = failed > 0 ? 1 : 0

/** As one file of plain JavaScript: what reads TypeScript while it runs names each function again whenever one is made, which costs a tenth of a day. */
async function compiled(): Promise<string> {
  const here = (path: string) => fileURLToPath(new URL(path, import.meta.url))
  // Among the packages, so that what is not compiled is found from there.
  const outDir = here('../../node_modules/.cache/musterbook-simulation')
  await build({
    configFile: false,
    root: here('.'),
    logLevel: 'warn',
    ssr: { noExternal: true, external: ['better-sqlite3'] },
    build: {
      ssr: here('./worker.ts'),
      outDir,
      emptyOutDir: true,
      target: 'node20',
      rolldownOptions: { output: { entryFileNames: 'worker.mjs', codeSplitting: false } },
    },
  })
  return `${outDir}/worker.mjs`
}

async function startWorker(): Promise<ChildProcess> {
  return fork(worker, {
    execArgv: ['--min-semi-space-size=128', '--max-semi-space-size=128', '--initial-heap-size=1000', '--single-threaded-gc'],
  })
}

async function work(worker: ChildProcess): Promise<void> {
  while (next < first + seeds) {
    const one = await liveIn(worker, next++)
    lived.set(one.seed, one)
    entries += one.entries
    crashes += one.crashes
    if (one.says.length > 0) {
      failed++
      console.log(`FAILED  seed ${one.seed}\n${one.says.join('\n')}`)
    }
    progress()
  }
}

function liveIn(worker: ChildProcess, seed: number): Promise<Lived> {
  return new Promise((resolve, reject) => {
    const ended = (code: number | null) => reject(new Error(`the process that lived seed ${seed} ended (${code})`))
    worker.once('exit', ended)
    worker.once('message', (one: Lived) => {
      worker.off('exit', ended)
      resolve(one)
    })
    worker.send({ seed, students })
  })
}

/** The same seed gives the same day and the same records in another process. */
async function liveFirstAgain(): Promise<void> {
  const again = await liveIn(await startWorker().then((worker) => (workers.push(worker), worker)), first)
  const isSameAgain = again.digest === lived.get(first)?.digest
  if (isSameAgain) return
  failed++
  console.log(`FAILED  seed ${first}\nS11: lived again in another process it gives other records`)
}

function progress(): void {
  const now = performance.now()
  if (now - saidAt < 10_000 && lived.size < seeds) return
  saidAt = now
  console.log(`${lived.size} of ${seeds} days, ${failed} failed, ${Math.round((lived.size * 60_000) / (now - begun))} days a minute`)
}

function wholeNumber(text: string): number {
  const number = Number(text)
  if (!Number.isSafeInteger(number) || number < 1) {
    console.error(`${text} is not a whole number from 1 up`)
    process.exit(1)
  }
  return number
}
