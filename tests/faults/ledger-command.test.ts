import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { draft } from '@musterbook/ledger/controls'
import { sqliteLedger } from '@musterbook/ledger/sqlite'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { ledgerCommand } from '../../ops/ledger-command.ts'
import { type NatsCluster, startNats } from './nats-cluster.ts'

let cluster: NatsCluster
let folder: string
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'ledger-command-'))
  cluster = await startNats(1)
  const ledger = sqliteLedger({ file: join(folder, 'ledger.sqlite') })
  for (let version = 0; version < 30; version++) await ledger.append('day/1', version, draft(`c${version + 1}`))
  await ledger.seal('day/1', await ledger.head('day/1'))
  await ledger.close()
})
afterAll(async () => {
  await cluster.stop()
  rmSync(folder, { recursive: true })
})

test('the ledger command carries a ledger into a cluster and back, with the same head byte for byte', async () => {
  const file = join(folder, 'all.jsonl')
  const nats = ['--nats', cluster.connection.servers.join(), '--monitors', cluster.monitors.join(), '--replicas', '1']
  const head = await run('head', '--data', folder)
  await run('export', '--data', folder, '--out', file)
  expect(await run('import', ...nats, '--from', file)).toMatchObject({ code: 0 })
  expect(await run('head', ...nats)).toEqual(head)
  expect(await run('verify', ...nats)).toMatchObject({ code: 0 })
  expect(await run('export', ...nats, '--out', join(folder, 'back.jsonl'))).toMatchObject({ code: 0 })
  expect(await run('import', '--data', join(folder, 'back'), '--from', join(folder, 'back.jsonl'))).toMatchObject({ code: 0 })
  expect(await run('head', '--data', join(folder, 'back'))).toEqual(head)
  expect((await run('import', ...nats, '--from', file)).trouble).toEqual([
    'this ledger already holds entries; an export is imported into an empty one',
  ])
  expect((await run('head', ...nats.slice(0, 2))).trouble[0]).toContain('name the monitoring address of every NATS server')
})

async function run(...words: string[]) {
  const out: string[] = []
  const trouble: string[] = []
  const code = await ledgerCommand(words, { out: (line) => out.push(line), trouble: (line) => trouble.push(line) })
  return { code, out, trouble }
}
