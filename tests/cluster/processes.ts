import { type ChildProcess, spawn } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { ledgerCommand } from '../../ops/ledger-command.ts'
import { users } from '../../ops/processes/nats-settings.ts'
import { type NatsCluster, startNats } from '../faults/nats-cluster.ts'

const house = fileURLToPath(new URL('../../', import.meta.url))

/** Were the tests to end early, these would run for ever. */
const running = new Set<ChildProcess>()
process.once('exit', () => running.forEach((child) => child.kill('SIGKILL')))

/** Invented, for these tests alone. `mover` may write every stream: it carries a ledger in, once. */
export const passwords: Record<string, string> = Object.fromEntries(
  [...users, 'mover'].map((user) => [`MUSTERBOOK_NATS_${user.toUpperCase()}`, `invented-${user}`]),
)

/** Real servers under the shipped permissions. */
export async function startShippedNats(count: 1 | 3): Promise<NatsCluster> {
  Object.assign(process.env, passwords) // The servers take the passwords from their environment.
  const shipped = readFileSync(new URL('../../ops/nats/permissions.conf', import.meta.url), 'utf8')
  const mover = '{ user: mover, password: $MUSTERBOOK_NATS_MOVER, permissions: { publish: [">"], subscribe: [">"] } }'
  return startNats(count, shipped.replace('users: [', `users: [\n    ${mover}`))
}

export interface Spawned {
  readonly child: ChildProcess
  readonly ended: Promise<number | null>
  said(): string
  /** Resolves once it said so. Rejects with all that it said when it ends before, or is too slow. */
  says(what: RegExp, withinMs?: number): Promise<RegExpExecArray>
  /** The hard way: nothing is finished, nobody is told. */
  kill(): Promise<void>
  /** As an operator stops it. */
  stop(): Promise<number | null>
}

/** `npm start` with these words, in a process of its own. */
export function started(words: readonly string[]): Spawned {
  const child = spawn(process.execPath, ['--import', 'tsx', 'ops/start.ts', ...words], {
    cwd: house,
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  running.add(child)
  let text = ''
  let heard = () => {}
  for (const stream of [child.stdout, child.stderr])
    stream.on('data', (chunk: Buffer) => {
      text += chunk.toString()
      heard()
    })
  const ended = new Promise<number | null>((resolve) =>
    child.once('close', (code) => {
      running.delete(child)
      heard()
      resolve(code)
    }),
  )
  return {
    child,
    ended,
    said: () => text,
    async says(what, withinMs = 30_000) {
      const late = AbortSignal.timeout(withinMs)
      late.addEventListener('abort', () => heard(), { once: true })
      for (;;) {
        const found = what.exec(text)
        if (found) return found
        if (late.aborted || child.exitCode !== null) throw new Error(`${words.join(' ')} did not say ${what}, but:\n${text}`)
        await new Promise<void>((resolve) => (heard = resolve))
      }
    },
    async kill() {
      child.kill('SIGKILL')
      await ended
    },
    stop() {
      child.kill('SIGTERM')
      return ended
    },
  }
}

/** The ledger command, as one user. Rejects with all that it said unless it ends well. */
export async function ledger(words: readonly string[], user?: string): Promise<string> {
  const said: string[] = []
  const say = (line: string) => said.push(line)
  if (user !== undefined) {
    process.env.MUSTERBOOK_NATS_USER = user
    process.env.MUSTERBOOK_NATS_PASSWORD = passwords[`MUSTERBOOK_NATS_${user.toUpperCase()}`]
  }
  const code = await ledgerCommand(words, { out: say, trouble: say })
  if (code !== 0) throw new Error(`ledger ${words.join(' ')} ended with ${code}:\n${said.join('\n')}`)
  return said.join('\n')
}

/** The words that name a cluster. */
export const wordsFor = ({ connection, monitors, nodes }: NatsCluster): string[] => [
  '--nats',
  connection.servers.map((server) => `nats://${server}`).join(),
  '--monitors',
  monitors.join(),
  '--replicas',
  String(nodes.length),
]
