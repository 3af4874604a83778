import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { chainFault } from '@musterbook/evidence/chain'
import { draft } from '@musterbook/ledger/controls'
import { exportLines } from '@musterbook/ledger/export'
import { checkedEntries, importEntries } from '@musterbook/ledger/import'
import { jetstreamLedger } from '@musterbook/ledger/jetstream'
import { keptHead } from '@musterbook/ledger/kept-head'
import type { Ledger } from '@musterbook/ledger/ledger'
import { memoryLedger } from '@musterbook/ledger/memory'
import { sqliteLedger } from '@musterbook/ledger/sqlite'
import { verify } from '@musterbook/ledger/verify'
import { expect, test } from 'vitest'
import { collect, persistentClient } from './clients.ts'
import { killed, moreAcknowledged } from './cluster-faults.ts'
import { historyFaults, type Told } from './history.ts'
import { startNats } from './nats-cluster.ts'

test('a day begun on SQLite is finished on a cluster that loses a server, sealed, and read back with one unbroken chain', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'move-'))
  const laptop = sqliteLedger({ file: join(folder, 'ledger.sqlite') })
  for (let version = 0; version < 300; version++) await laptop.append('day/moved', version, draft(`morning-${version}`))
  for (let version = 0; version < 20; version++) await laptop.append('site/1', version, draft(`reading-${version}`))
  await laptop.append('day/before', 0, draft('c1'))
  await laptop.seal('day/before', await laptop.head('day/before'))
  const begun = keptHead(await laptop.streams(''))

  const nats = await startNats(3)
  const cluster = await jetstreamLedger({ connection: nats.connection, monitors: nats.monitors, replicas: 3 })
  try {
    await carry(laptop, cluster)
    expect(keptHead(await cluster.streams(''))).toEqual(begun)
    expect(await cluster.append('day/moved', 0, draft('morning-7'))).toMatchObject({ toldTwice: true, appended: { version: 8 } })

    const told = new Map<string, Told>()
    let stopped = false
    const clients = [1, 2].map((client) =>
      persistentClient(
        cluster,
        'day/moved',
        `afternoon-${client}`,
        () => stopped,
        (each) => told.set(each.commandId, each),
      ),
    )
    await moreAcknowledged(told, 20)
    await killed(await nats.leaderOf('musterbook_day_2fmoved'))
    await moreAcknowledged(told, 20)
    stopped = true
    await Promise.all(clients)
    const end = await cluster.head('day/moved')
    expect(end.version).toBeGreaterThanOrEqual(340)
    expect(await cluster.seal('day/moved', end)).toEqual({ ...end, sealed: true })

    const archive = memoryLedger()
    await carry(cluster, archive)
    expect(keptHead(await archive.streams(''))).toEqual(keptHead(await cluster.streams('')))
    expect((await verify(archive, begun)).faults).toEqual([])
    const entries = await collect(archive.read('day/moved', 0))
    expect(entries.map((entry, index) => chainFault(entries[index - 1], entry)).filter(Boolean)).toEqual([])
    const morning = entries.slice(0, 300).map(({ meta }) => ({ stream: 'day/moved', commandId: meta.commandId, askedAt: 0 }))
    expect(historyFaults([...morning, ...told.values()], new Map([['day/moved', entries]]))).toEqual([])
  } finally {
    await cluster.close()
    await nats.stop()
    await laptop.close()
    rmSync(folder, { recursive: true })
  }
}, 90_000)

async function carry(from: Ledger, to: Ledger): Promise<void> {
  await importEntries(checkedEntries(exportLines(from)), to)
}
