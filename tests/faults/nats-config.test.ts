import { spawnSync } from 'node:child_process'
import { copyFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { draft } from '@musterbook/ledger/controls'
import { jetstreamLedger } from '@musterbook/ledger/jetstream'
import type { Ledger } from '@musterbook/ledger/ledger'
import { jetstreamManager } from '@nats-io/jetstream'
import { connect } from '@nats-io/transport-node'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { natsServer } from '../../ops/nats-server.ts'
import { type NatsCluster, startNats } from './nats-cluster.ts'

const shipped = (name: string) => fileURLToPath(new URL(`../../ops/nats/${name}`, import.meta.url))
const services = ['testday', 'weather', 'office', 'gateway', 'projections'] as const
const passwords = Object.fromEntries(services.map((service) => [`MUSTERBOOK_NATS_${service.toUpperCase()}`, `secret-${service}`]))

test('the shipped configuration is one that nats-server takes', () => {
  const folder = mkdtempSync(join(tmpdir(), 'nats-config-'))
  for (const name of ['server.conf', 'permissions.conf']) copyFileSync(shipped(name), join(folder, name))
  writeFileSync(join(folder, 'tls.conf'), '') // Its certificates are an installation's own.
  const settings = {
    MUSTERBOOK_NATS_NAME: 'one',
    MUSTERBOOK_NATS_STORE: join(folder, 'store'),
    MUSTERBOOK_NATS_ROUTES: '["nats-route://two:6222"]',
  }
  const { stderr, stdout, status } = spawnSync(natsServer(), ['-t', '-c', join(folder, 'server.conf')], {
    encoding: 'utf8',
    env: { ...process.env, ...settings, ...passwords },
  })
  rmSync(folder, { recursive: true })
  expect(stdout + stderr).toContain('is valid')
  expect(status).toBe(0)
})

describe('under the shipped permissions', () => {
  let cluster: NatsCluster
  const ledgers = new Map<string, Ledger>()
  const as = (service: string) => ({
    ...cluster.connection,
    user: service,
    pass: `secret-${service}`,
    inboxPrefix: `_INBOX_${service}`,
    timeout: 500,
  })
  beforeAll(async () => {
    Object.assign(process.env, passwords)
    cluster = await startNats(1, readFileSync(shipped('permissions.conf'), 'utf8'))
    for (const service of services) {
      ledgers.set(service, await jetstreamLedger({ connection: as(service), monitors: cluster.monitors, replicas: 1, patienceMs: 500 }))
    }
  })
  afterAll(async () => {
    for (const ledger of ledgers.values()) await ledger.close()
    await cluster.stop()
    for (const name of Object.keys(passwords)) delete process.env[name]
  })

  test.each([
    ['testday', 'day/1'],
    ['testday', 'after/1'],
    ['weather', 'site/1'],
    ['office', 'people/1'],
    ['office', 'case/1'],
    ['gateway', 'access/1'],
  ])('%s writes to %s, and everyone reads it live', async (service, stream) => {
    const ended = new AbortController()
    const following = [...ledgers.values()].map(async (ledger) => {
      for await (const entry of ledger.follow(stream, new Map(), ended.signal)) return entry.version
      return undefined
    })
    expect(await ledgers.get(service)!.append(stream, 0, draft('c1'))).toMatchObject({ toldTwice: false })
    expect(await Promise.all(following)).toEqual(services.map(() => 1))
    ended.abort()
  })

  test('nobody else writes to a day', async () => {
    for (const service of services.filter((other) => other !== 'testday')) {
      const before = await ledgers.get('testday')!.head('day/1')
      await expect(ledgers.get(service)!.append('day/1', before.version, draft(`by-${service}`))).rejects.toThrow()
      expect(await ledgers.get('testday')!.head('day/1')).toEqual(before)
    }
  }, 30_000)

  test('testday seals a day, and nobody deletes or purges a stream', async () => {
    const testday = ledgers.get('testday')!
    await testday.append('day/2', 0, draft('c1'))
    expect(await testday.seal('day/2', await testday.head('day/2'))).toMatchObject({ sealed: true })
    for (const service of services) {
      const connection = await connect(as(service))
      const manager = await jetstreamManager(connection)
      await expect(manager.streams.delete('musterbook_day_2f2')).rejects.toThrow()
      await expect(manager.streams.purge('musterbook_day_2f2')).rejects.toThrow()
      await expect(manager.streams.deleteMessage('musterbook_day_2f2', 1)).rejects.toThrow()
      await connection.close()
    }
    expect((await testday.head('day/2')).version).toBe(1)
  }, 30_000)
})
