import { execFileSync, spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { serveTestDay, testDayOverNats } from '@musterbook/testday/over-nats'
import { draft } from '@musterbook/ledger/controls'
import type { Command } from '@musterbook/vocabulary/command'
import { jetstreamManager } from '@nats-io/jetstream'
import type { NatsConnection } from '@nats-io/transport-node'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type NatsSettings, natsConnection, natsLedger, natsSettings, type User, users } from '../../ops/processes/nats-settings.ts'
import { roleOf } from '../../ops/processes/start-roles.ts'
import { sharedClock } from '../../ops/processes/shared-clock.ts'
import { natsServer } from '../../ops/nats-server.ts'
import { type NatsCluster, startNats } from '../faults/nats-cluster.ts'
import { passwords, startShippedNats, started, wordsFor } from './processes.ts'

const settingsOf = (cluster: NatsCluster, more: Partial<NatsSettings> = {}): NatsSettings => ({
  ...natsSettings({ nats: cluster.connection.servers.join(), monitors: cluster.monitors.join(), replicas: '1' }, passwords),
  ...more,
})

describe('on a real server with the shipped permissions', () => {
  let cluster: NatsCluster
  const connections = new Map<User, NatsConnection>()
  beforeAll(async () => {
    cluster = await startShippedNats(1)
    const testday = await natsLedger(settingsOf(cluster), 'testday')
    await testday.append('day/1', 0, draft('c1'))
    await testday.close()
    for (const user of users) connections.set(user, await natsConnection(settingsOf(cluster), user))
  })
  afterAll(async () => {
    for (const connection of connections.values()) await connection.close()
    await cluster.stop()
  })
  const versionOfDay = async () =>
    (await (await jetstreamManager(connections.get('testday')!)).streams.info('musterbook_day_2f1')).state.last_seq

  test.each(users.filter((user) => user !== 'testday'))('%s cannot publish into a day, by whatever way', async (user) => {
    const connection = connections.get(user)!
    const before = await versionOfDay()
    await expect(connection.request('musterbook.entry.day.day_2f1', 'bent', { timeout: 1_000 })).rejects.toThrow()
    connection.publish('musterbook.entry.day.day_2f1', 'bent')
    await connection.flush()
    const manager = await jetstreamManager(connection)
    // Nor may it close the day.
    await expect(manager.streams.update('musterbook_day_2f1', { sealed: true } as object)).rejects.toThrow()
    expect(await versionOfDay()).toBe(before)
  })

  test('testday can, so that the test above can fail', async () => {
    const before = await versionOfDay()
    const connection = connections.get('testday')!
    connection.publish('musterbook.entry.day.day_2f1', 'bent')
    await connection.flush()
    expect(await versionOfDay()).toBe(before + 1)
  })

  test('only testday hears commands and answers them; only the gateway asks for them', async () => {
    const command = {
      act: 'withdraw',
      dayId: 'd',
      by: { personId: 'p', roles: ['station'], deviceId: 'tablet', countersigned: null },
      envelope: {
        commandId: 'c',
        deviceSequence: 1,
        occurredAt: 1,
        steadyMs: 1,
        offsetMs: 0,
        bandMs: 0,
        seenVersion: 0,
        contactAgeMs: 0,
        decidedOnDevice: false,
      },
      body: { studentId: 's' },
    } as unknown as Command
    const heard: Command[] = []
    const hears = (user: User) => serveTestDay(connections.get(user)!, { tell: async (told) => (heard.push(told), { noSuchDay: true }) })
    const thieves = users.filter((user) => user !== 'testday').map(hears)
    await Promise.all([...connections.values()].map((connection) => connection.flush()))
    const served = hears('testday')
    await connections.get('testday')!.flush()
    for (let times = 0; times < 20; times++)
      expect(await testDayOverNats(connections.get('gateway')!).tell(command)).toEqual({ noSuchDay: true })
    expect(heard).toEqual(Array.from({ length: 20 }, () => command))

    await expect(testDayOverNats(connections.get('weather')!).tell(command)).rejects.toThrow(/ermission/)
    await expect(testDayOverNats(connections.get('gateway')!).tell({ ...command, body: { studentId: 7 } } as never)).rejects.toThrow(
      'was asked in other words',
    )
    expect(heard).toHaveLength(20)
    await Promise.all([served, ...thieves].map((each) => each.close().catch(() => {})))
  })

  test('nobody listens to the answers that another gets', async () => {
    for (const user of users) {
      const subscription = connections.get(user)!.subscribe(`_INBOX_${user === 'gateway' ? 'testday' : 'gateway'}.>`)
      const refused = subscription.closed
      await connections.get(user)!.flush()
      expect(String(await refused)).toMatch(/ermission/)
    }
  })

  test('a wrong password, or none, is refused in a sentence', async () => {
    await expect(natsConnection(settingsOf(cluster, { passwordOf: () => 'guessed' }), 'gateway')).rejects.toThrow(
      'NATS does not take the password of gateway',
    )
    const without = natsSettings({ nats: cluster.connection.servers.join() }, {})
    await expect(natsConnection(without, 'gateway')).rejects.toThrow('MUSTERBOOK_NATS_GATEWAY')
  })
})

test('all services in one process stand, and stop when asked', async () => {
  const cluster = await startShippedNats(1)
  const folder = mkdtempSync(join(tmpdir(), 'all-roles-'))
  const where = ['--port', '0', '--no-screens', '--data', join(folder, 'data'), '--key', join(folder, 'key')]
  const all = started([...wordsFor(cluster), '--role', 'all', ...where])
  try {
    const [, address] = await all.says(/stands at (\S+)/)
    await all.says(/one-time code/)
    expect(await (await fetch(`${address}/health`)).json()).toMatchObject({ ok: true, ledger: { streams: 0 } })
    expect(await all.stop()).toBe(0)
  } finally {
    await all.kill()
    await cluster.stop()
    rmSync(folder, { recursive: true })
  }
}, 60_000)

test('a process over NATS that cannot stand says what to change, and ends', async () => {
  const lazy = await startNats(1, 'jetstream { sync_interval: "2m" }')
  try {
    const refused: [string[], RegExp][] = [
      [[...wordsFor(lazy), '--role', 'testday'], /acknowledges before it has synced.*sync_interval: always/],
      [['--nats', 'nats://127.0.0.1:1', '--monitors', lazy.monitors[0]!, '--role', 'cook'], /--role is one of testday, weather/],
    ]
    const all = refused.map(([words, says]) => ({ one: started(words), says }))
    for (const { one, says } of all) {
      expect(await one.ended).toBe(1)
      expect(one.said()).toMatch(says)
    }
  } finally {
    await lazy.stop()
  }
}, 60_000)

test('settings that cannot be meant are refused in a sentence', () => {
  expect(() => natsSettings({ nats: 'one', replicas: '2' }, {})).toThrow('--replicas is 1, 3 or 5')
  expect(() => natsSettings({ nats: 'one', 'nats-ca': 'a' }, {})).toThrow('go together')
  expect(natsSettings({ nats: 'nats://one:4222, two' }, {}).monitors).toEqual(['http://one:8222', 'http://two:8222'])
  expect(() => roleOf('office')).toThrow('--role is one of')
  expect(() => sharedClock({ speed: 60 })).toThrow('--since')
})

describe('with the shipped TLS settings', () => {
  let folder: string
  let cluster: NatsCluster
  const file = (name: string) => join(folder, name)
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'cluster-tls-'))
    const openssl = (...words: string[]) => execFileSync('openssl', words, { cwd: folder, stdio: 'pipe' })
    openssl(
      'req',
      '-x509',
      '-newkey',
      'ec',
      '-pkeyopt',
      'ec_paramgen_curve:prime256v1',
      '-nodes',
      '-days',
      '2',
      '-subj',
      '/CN=invented authority',
      '-keyout',
      'authority.key',
      '-out',
      'authority.crt',
    )
    writeFileSync(file('names'), 'subjectAltName=IP:127.0.0.1,DNS:localhost\nextendedKeyUsage=serverAuth,clientAuth\n')
    for (const name of ['server', 'service']) {
      openssl(
        'req',
        '-newkey',
        'ec',
        '-pkeyopt',
        'ec_paramgen_curve:prime256v1',
        '-nodes',
        '-subj',
        `/CN=${name}`,
        '-keyout',
        `${name}.key`,
        '-out',
        `${name}.csr`,
      )
      openssl(
        'x509',
        '-req',
        '-in',
        `${name}.csr`,
        '-CA',
        'authority.crt',
        '-CAkey',
        'authority.key',
        '-CAcreateserial',
        '-days',
        '2',
        '-extfile',
        'names',
        '-out',
        `${name}.crt`,
      )
    }
    const shipped = readFileSync(new URL('../../ops/nats/tls.conf', import.meta.url), 'utf8').replaceAll(
      '/etc/musterbook/nats/',
      `${folder}/`,
    )
    const permissions = readFileSync(new URL('../../ops/nats/permissions.conf', import.meta.url), 'utf8')
    Object.assign(process.env, passwords)
    cluster = await startNats(1, `${shipped}\n${permissions}`)
  })
  afterAll(async () => {
    await cluster.stop()
    rmSync(folder, { recursive: true, force: true })
  })

  test('a service with a certificate of the authority gets in, with none it does not', async () => {
    const tls = { caFile: file('authority.crt'), certFile: file('service.crt'), keyFile: file('service.key') }
    const ledger = await natsLedger(settingsOf(cluster, { tls }), 'gateway')
    expect(await ledger.append('access/1', 0, draft('c1'))).toMatchObject({ appended: { version: 1 } })
    await ledger.close()

    await expect(natsConnection(settingsOf(cluster), 'gateway')).rejects.toThrow()
    const { caFile } = tls
    await expect(natsConnection(settingsOf(cluster, { tls: { caFile } as never }), 'gateway')).rejects.toThrow()
  })

  test('the whole of the shipped configuration is one that the server takes, its routes under TLS as well', () => {
    const conf = (name: string) => readFileSync(new URL(`../../ops/nats/${name}`, import.meta.url), 'utf8')
    writeFileSync(file('server.conf'), conf('server.conf'))
    writeFileSync(file('permissions.conf'), conf('permissions.conf'))
    writeFileSync(file('tls.conf'), conf('tls.conf').replaceAll('/etc/musterbook/nats/', `${folder}/`))
    const settings = {
      MUSTERBOOK_NATS_NAME: 'one',
      MUSTERBOOK_NATS_STORE: file('store'),
      MUSTERBOOK_NATS_ROUTES: '[nats-route://two:6222, nats-route://three:6222]',
    }
    const check = () =>
      spawnSync(natsServer(), ['-t', '-c', file('server.conf')], { encoding: 'utf8', env: { ...process.env, ...settings } })
    expect(check().stderr).toContain('is valid')
    rmSync(file('server.key'))
    expect(check().status).not.toBe(0)
  })
})
