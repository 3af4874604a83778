import { type ChildProcess, spawn } from 'node:child_process'
import { closeSync, mkdirSync, mkdtempSync, openSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { createServer } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { NodeConnectionOptions } from '@nats-io/transport-node'
import { natsServer } from '../../ops/nats-server.ts'

/** Were the tests to end early, these would run for ever. */
const running = new Set<ChildProcess>()
process.once('exit', () => running.forEach((server) => server.kill('SIGKILL')))

interface Ports {
  readonly client: number
  readonly monitor: number
  readonly route: number
}

/** Where a server runs and how it is reached. */
interface Place {
  readonly ports: Ports
  /** The address that it listens on, and the one at which whoever runs the tests reaches it. */
  readonly listens: string
  readonly host: string
  /** The routes of the cluster, as this server sees them. */
  readonly routes: readonly string[]
  /** What is put before the command: a network of its own, say. */
  readonly within: readonly string[]
}

/** One real server of a cluster, with a store folder of its own; it can be killed, paused and started again. */
export class NatsNode {
  readonly name: string
  readonly #place: Place
  readonly #folder: string
  readonly #config: string
  #process: ChildProcess | undefined

  constructor(folder: string, name: string, place: Place, more: string) {
    this.name = name
    this.#place = place
    this.#folder = join(folder, name)
    mkdirSync(this.#folder, { recursive: true })
    this.#config = join(this.#folder, 'server.conf')
    const { listens, ports, routes } = place
    writeFileSync(
      this.#config,
      `server_name: ${name}
listen: "${listens}:${ports.client}"
http: "${listens}:${ports.monitor}"
jetstream { store_dir: "${this.#folder}", sync_interval: always, max_file_store: 4GB, max_memory_store: 64MB }
${routes.length > 1 ? `cluster { name: test, listen: "${listens}:${ports.route}", no_advertise: true, routes: [${routes.join(', ')}] }` : ''}
${more}`,
    )
  }

  get monitor(): string {
    return `http://${this.#place.host}:${this.#place.ports.monitor}`
  }

  get server(): string {
    return `${this.#place.host}:${this.#place.ports.client}`
  }

  async start(): Promise<void> {
    const log = openSync(join(this.#folder, 'log'), 'a')
    const [program = '', ...words] = [...this.#place.within, natsServer(), '-c', this.#config]
    this.#process = spawn(program, words, { stdio: ['ignore', log, log] })
    closeSync(log)
    running.add(this.#process)
    await until(
      () => this.healthy(),
      25_000,
      () => `the NATS server ${this.name} did not start:\n${readFileSync(join(this.#folder, 'log'), 'utf8').slice(-2_000)}`,
    )
  }

  /** Whether it is up and has caught up with its cluster. */
  async healthy(): Promise<boolean> {
    try {
      return (await fetch(`${this.monitor}/healthz`, { signal: AbortSignal.timeout(2_000) })).ok
    } catch {
      return false
    }
  }

  /** Ends it the hard way: nothing is flushed, nobody is told. */
  async kill(): Promise<void> {
    const server = this.#process
    if (!server || server.exitCode !== null || server.signalCode !== null) return
    const gone = new Promise((resolve) => server.once('exit', resolve))
    server.kill('SIGKILL')
    await gone
    running.delete(server)
  }

  pause(): void {
    this.#process?.kill('SIGSTOP')
  }

  resume(): void {
    this.#process?.kill('SIGCONT')
  }
}

export interface NatsCluster {
  readonly nodes: readonly NatsNode[]
  readonly monitors: readonly string[]
  readonly connection: Pick<NodeConnectionOptions, 'reconnectTimeWait' | 'timeout' | 'pingInterval' | 'maxPingOut'> & { servers: string[] }
  /** The node that leads this JetStream stream. */
  leaderOf(stream: string): Promise<NatsNode>
  stop(): Promise<void>
}

/** Starts one server, or a cluster, on free ports of loopback. `more` is added to each configuration. */
export async function startNats(count: 1 | 3, more = ''): Promise<NatsCluster> {
  try {
    return await startOn(count, more)
  } catch {
    // A port that was free a moment ago may be another test's by now: once more, on others.
    return startOn(count, more)
  }
}

async function startOn(count: 1 | 3, more: string): Promise<NatsCluster> {
  const folder = mkdtempSync(join(tmpdir(), 'nats-'))
  const ports = await Promise.all(
    Array.from({ length: count }, async () => ({ client: await freePort(), monitor: await freePort(), route: await freePort() })),
  )
  const loopback = '127.0.0.1'
  const routes = ports.map(({ route }) => `nats-route://${loopback}:${route}`)
  const nodes = ports.map(
    (each, index) =>
      new NatsNode(folder, `node-${index + 1}`, { ports: each, listens: loopback, host: loopback, routes, within: [] }, more),
  )
  return startNodes(nodes, folder)
}

/** Starts these servers as one cluster, whose stores lie in `folder`. */
export async function startNodes(nodes: readonly NatsNode[], folder: string): Promise<NatsCluster> {
  const stop = async () => {
    await Promise.all(nodes.map((node) => node.kill()))
    rmSync(folder, { recursive: true, force: true })
  }
  try {
    await Promise.all(nodes.map((node) => node.start()))
  } catch (error) {
    await stop()
    throw error
  }
  return {
    nodes,
    monitors: nodes.map((node) => node.monitor),
    // A line that says nothing is left within seconds, as the services leave it.
    connection: { servers: nodes.map((node) => node.server), reconnectTimeWait: 100, timeout: 3_000, pingInterval: 3_000, maxPingOut: 2 },
    leaderOf: async (stream) => {
      for (const node of nodes) {
        const name = await leaderSeenBy(node, stream)
        const leader = nodes.find((other) => other.name === name)
        if (leader) return leader
      }
      throw new Error(`nobody leads ${stream}`)
    },
    stop,
  }
}

export async function until(holds: () => boolean | Promise<boolean>, withinMs: number, complaint: () => string): Promise<void> {
  const end = performance.now() + withinMs
  while (!(await holds())) {
    if (performance.now() > end) throw new Error(complaint())
    await new Promise((resolve) => setTimeout(resolve, 50))
  }
}

async function leaderSeenBy(node: NatsNode, stream: string): Promise<string | undefined> {
  try {
    const response = await fetch(`${node.monitor}/jsz?streams=true`, { signal: AbortSignal.timeout(2_000) })
    const { account_details: accounts } = (await response.json()) as {
      account_details?: { stream_detail?: { name: string; cluster?: { leader?: string } }[] }[]
    }
    return accounts?.flatMap((account) => account.stream_detail ?? []).find((detail) => detail.name === stream)?.cluster?.leader
  } catch {
    return undefined
  }
}

export function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const server = createServer()
    server.once('error', reject)
    server.listen(0, '127.0.0.1', () => {
      const { port } = server.address() as { port: number }
      server.close(() => resolve(port))
    })
  })
}
