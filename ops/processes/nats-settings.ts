import { jetstreamLedger } from '@musterbook/ledger/jetstream'
import type { Ledger } from '@musterbook/ledger/ledger'
import { connect, type NatsConnection, type NodeConnectionOptions } from '@nats-io/transport-node'

/** Who connects. What each may write stands in the servers' permissions. */
export const users = ['testday', 'weather', 'office', 'gateway', 'projections'] as const
export type User = (typeof users)[number]

export interface NatsSettings {
  readonly servers: readonly string[]
  readonly monitors: readonly string[]
  readonly replicas: 1 | 3 | 5
  readonly tls: { caFile: string; certFile: string; keyFile: string } | undefined
  readonly passwordOf: (user: User) => string
}

/** As they are typed; each may be absent. */
export interface TypedNats {
  nats?: string | undefined
  monitors?: string | undefined
  replicas?: string | undefined
  'nats-ca'?: string | undefined
  'nats-certificate'?: string | undefined
  'nats-key'?: string | undefined
}

/** The options of a command line that name a cluster, for `parseArgs`. */
export const natsOptions = {
  nats: { type: 'string' },
  monitors: { type: 'string' },
  replicas: { type: 'string' },
  'nats-ca': { type: 'string' },
  'nats-certificate': { type: 'string' },
  'nats-key': { type: 'string' },
} as const

export const natsUsage = `  --nats URLS             the NATS servers, as nats://one:4222,nats://two:4222,nats://three:4222
  --monitors URLS         their monitoring addresses (the same hosts at port 8222)
  --replicas N            how many servers keep each entry: 3, or 1 where there is one server (3)
  --nats-ca FILE          with --nats-certificate FILE and --nats-key FILE: speaks TLS with the servers
  Passwords stand in the environment, one for each service: MUSTERBOOK_NATS_TESTDAY, …_WEATHER, …_OFFICE, …_GATEWAY, …_PROJECTIONS`

const usualMonitorPort = 8222

/** Throws with a sentence where the settings cannot be meant. `environment` holds the passwords. */
export function natsSettings(typed: TypedNats & { nats: string }, environment: Readonly<Record<string, string | undefined>>): NatsSettings {
  const servers = listOf(typed.nats)
  const hosts = servers.map((server) => hostOf(server))
  const { 'nats-ca': caFile, 'nats-certificate': certFile, 'nats-key': keyFile } = typed
  const given = [caFile, certFile, keyFile].filter((each) => each !== undefined)
  if (given.length !== 0 && given.length !== 3) throw new Error('--nats-ca, --nats-certificate and --nats-key go together.')
  return {
    servers,
    monitors: typed.monitors ? listOf(typed.monitors) : hosts.map((host) => `http://${host}:${usualMonitorPort}`),
    replicas: replicasOf(typed.replicas ?? '3'),
    tls: caFile && certFile && keyFile ? { caFile, certFile, keyFile } : undefined,
    passwordOf(user) {
      const name = `MUSTERBOOK_NATS_${user.toUpperCase()}`
      const password = environment[name]
      if (!password)
        throw new Error(`Put the password of ${user} into ${name}: without one, anybody on the network could write the record.`)
      return password
    },
  }
}

function connectionOf({ servers, tls, passwordOf }: NatsSettings, user: User): NodeConnectionOptions {
  return {
    servers: [...servers],
    name: `musterbook ${user}`,
    user,
    pass: passwordOf(user),
    inboxPrefix: `_INBOX_${user}`,
    timeout: 5_000,
    maxReconnectAttempts: -1,
    reconnectTimeWait: 200,
    // A server that holds its connections and answers nobody is left within seconds.
    pingInterval: 3_000,
    maxPingOut: 2,
    ...(tls && { tls }),
  }
}

/** The ledger as one service may write it. Throws with a sentence when the servers cannot keep it. */
export async function natsLedger(settings: NatsSettings, user: User): Promise<Ledger> {
  const { monitors, replicas } = settings
  try {
    return await jetstreamLedger({ connection: connectionOf(settings, user), monitors, replicas })
  } catch (error) {
    throw refusedFor(user, error)
  }
}

export async function natsConnection(settings: NatsSettings, user: User): Promise<NatsConnection> {
  try {
    return await connect(connectionOf(settings, user))
  } catch (error) {
    throw refusedFor(user, error)
  }
}

function refusedFor(user: User, error: unknown): Error {
  const { name, message } = error as Error
  if (name === 'AuthorizationError')
    return new Error(`NATS does not take the password of ${user}: correct it here or on the servers.`, { cause: error })
  if (/ENOTFOUND|ECONNREFUSED|CONNECTION_REFUSED|connection refused/i.test(`${name} ${message}`))
    return new Error(`None of the NATS servers is reached as ${user}: start them, or correct --nats.`, { cause: error })
  return error as Error
}

const listOf = (text: string): string[] =>
  text
    .split(',')
    .map((each) => each.trim())
    .filter((each) => each !== '')

function hostOf(server: string): string {
  try {
    return new URL(server.includes('://') ? server : `nats://${server}`).hostname
  } catch {
    throw new Error(`--nats does not take ${server}: name servers as nats://host:4222, with commas between them.`)
  }
}

function replicasOf(text: string): 1 | 3 | 5 {
  if (text === '1' || text === '3' || text === '5') return Number(text) as 1 | 3 | 5
  throw new Error('--replicas is 1, 3 or 5.')
}
