/** Figures without a budget: what a large day costs, and what many writers on one day cost each other. */
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { jetstreamLedger } from '@musterbook/ledger/jetstream'
import { sqliteLedger } from '@musterbook/ledger/sqlite'
import { verify } from '@musterbook/ledger/verify'
import { startNats } from '../faults/nats-cluster.ts'
import { kilobyte } from './drafts.ts'

export interface Figure {
  readonly what: string
  readonly value: number
  readonly unit: string
}

const largeDay = 100_000

/** A day of bare entries: what its length costs the ledger. */
export async function largeLedger(): Promise<Figure[]> {
  const folder = mkdtempSync(join(tmpdir(), 'bench-'))
  const ledger = sqliteLedger({ file: join(folder, 'ledger.sqlite') })
  try {
    for (let version = 0; version < largeDay; version += 500) {
      await Promise.all(Array.from({ length: 500 }, (_, index) => ledger.append('day/1', version + index, kilobyte(`c${version + index}`))))
    }
    const before = process.memoryUsage().heapUsed
    const [readMs, entries] = await timed(async () => {
      const list = []
      for await (const entry of ledger.read('day/1', 0)) list.push(entry)
      return list
    })
    const heap = process.memoryUsage().heapUsed - before
    const [verifyMs] = await timed(() => verify(ledger))
    return [
      { what: `read and check a day of ${entries.length} entries of 1 kB`, value: readMs, unit: 'ms' },
      { what: `verify its chain`, value: verifyMs, unit: 'ms' },
      { what: `hold all its entries in memory`, value: heap / 1e6, unit: 'MB' },
    ]
  } finally {
    await ledger.close()
    rmSync(folder, { recursive: true })
  }
}

/** Twenty processes' worth of writers that know nothing of each other: what one queue a day in front of the ledger saves. */
export async function conflictsOf20Writers(): Promise<Figure[]> {
  const cluster = await startNats(1)
  const writers = await Promise.all(
    Array.from({ length: 20 }, () =>
      jetstreamLedger({ connection: cluster.connection, monitors: cluster.monitors, replicas: 1, space: 'bench' }),
    ),
  )
  let conflicts = 0
  const entriesEach = 20
  try {
    await Promise.all(
      writers.map(async (ledger, writer) => {
        for (let count = 0, version = 0; count < entriesEach;) {
          const answer = await ledger.append('day/1', version, kilobyte(`w${writer}-${count}`))
          if ('appended' in answer) {
            version = answer.appended.version
            count++
          } else if ('lostRace' in answer) {
            version = answer.lostRace.version
            conflicts++
          }
        }
      }),
    )
    return [
      {
        what: 'lost races for each entry, 20 writers on one day of the JetStream ledger',
        value: conflicts / (20 * entriesEach),
        unit: '',
      },
    ]
  } finally {
    await Promise.all(writers.map((ledger) => ledger.close()))
    await cluster.stop()
  }
}

async function timed<T>(work: () => Promise<T>): Promise<[milliseconds: number, result: T]> {
  const start = performance.now()
  const result = await work()
  return [performance.now() - start, result]
}
