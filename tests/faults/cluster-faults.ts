import { jetstreamLedger } from '@musterbook/ledger/jetstream'
import type { Ledger } from '@musterbook/ledger/ledger'
import { verify } from '@musterbook/ledger/verify'
import { everything, follow, persistentClient } from './clients.ts'
import { type Findings, newFindings, note } from './findings.ts'
import { historyFaults, type Told } from './history.ts'
import { type NatsCluster, type NatsNode, startNats, until } from './nats-cluster.ts'

/** What is done to the server that leads in one round; afterwards everything runs again. What it sees that must not be, it says. */
export type Fault = (leader: NatsNode, heard: ReadonlyMap<string, Told>) => Promise<void | string>

/** Ends the server the hard way and starts it again. */
export const killed = async (node: NatsNode): Promise<void> => {
  await node.kill()
  await pause(500)
  await node.start()
}

/** Holds the server still, so that its connections stay open and nobody answers, and lets it go on. */
export const paused = async (node: NatsNode): Promise<void> => {
  node.pause()
  await pause(6_000)
  node.resume()
}

const stream = 'day/under-fire'

/** Real servers on loopback, whose leader suffers `fault` in each round. */
export async function leaderFaults(servers: 1 | 3, rounds: number, fault: Fault, progress: (round: number) => void): Promise<Findings> {
  const cluster = await startNats(servers)
  try {
    return await underFaults(cluster, rounds, fault, progress)
  } finally {
    await cluster.stop()
  }
}

/**
 * Two processes' worth of clients append to one day, and two followers read it live, while in each round the server that leads the day's stream
 * suffers `fault`. Compares at the end what everyone was told with what stands there.
 */
export async function underFaults(
  cluster: NatsCluster,
  rounds: number,
  fault: Fault,
  progress: (round: number) => void,
): Promise<Findings> {
  const servers: 1 | 3 = cluster.nodes.length === 1 ? 1 : 3
  const space = 'faults'
  const options = { connection: cluster.connection, monitors: cluster.monitors, replicas: servers, space }
  const ledgers = [await jetstreamLedger(options), await jetstreamLedger(options)]
  const heard = new Map<string, Told>()
  const findings = newFindings()
  const ended = new AbortController()
  let stopped = false
  try {
    const seen = ledgers.map(() => ({ stream, hashes: [] as string[] }))
    const followers = ledgers.map((ledger, index) => follow(ledger, stream, seen[index]!.hashes, ended.signal))
    for (const each of followers) each.catch(() => {}) // Heard at the end, unless something else fails first.
    const clients = ledgers.flatMap((ledger, process) =>
      [1, 2].map((client) =>
        persistentClient(
          ledger,
          stream,
          `process-${process}-client-${client}`,
          () => stopped,
          (told) => heard.set(told.commandId, told),
        ),
      ),
    )
    for (let round = 1; round <= rounds; round++) {
      await moreAcknowledged(heard, 30)
      const leader = servers === 1 ? cluster.nodes[0]! : await cluster.leaderOf(`${space}_day_2funder-fire`)
      const seenWrong = await fault(leader, heard)
      if (seenWrong) findings.faults.push(seenWrong)
      await allHealthy(cluster)
      progress(round)
    }
    await moreAcknowledged(heard, 30)
    stopped = true
    await Promise.all(clients)
    const { version } = await ledgers[0]!.head(stream)
    await until(
      () => seen.every(({ hashes }) => hashes.length >= version),
      60_000,
      () => `the followers were given ${seen.map(({ hashes }) => hashes.length).join(' and ')} of ${version} entries`,
    )
    ended.abort()
    await Promise.all(followers)
    await listsStreams(ledgers)
    findings.faults.push(...(await verify(ledgers[0]!)).faults)
    const streams = await everything(ledgers[1]!)
    findings.faults.push(...historyFaults([...heard.values()], streams, seen))
    for (const { hashes } of seen)
      if (hashes.length !== version) findings.faults.push(`a follower was given ${hashes.length} of ${version} entries`)
    note(findings, { rounds, told: [...heard.values()], streams })
    return findings
  } finally {
    stopped = true
    ended.abort()
    await Promise.all(ledgers.map((ledger) => ledger.close()))
  }
}

/** Waits until the clients have heard that many more answers. */
export async function moreAcknowledged(heard: ReadonlyMap<string, Told>, more: number): Promise<void> {
  const count = () => [...heard.values()].filter((told) => told.acknowledged).length
  const before = count()
  await until(
    () => count() >= before + more,
    60_000,
    () => `only ${count() - before} commands were acknowledged within a minute`,
  )
}

/** A server says that it is healthy a moment before all of them agree on who leads. */
async function listsStreams(ledgers: readonly Ledger[]): Promise<void> {
  for (const ledger of ledgers)
    await until(
      () =>
        ledger.streams('').then(
          () => true,
          () => false,
        ),
      60_000,
      () => 'the streams are not listed within a minute',
    )
}

async function allHealthy(cluster: NatsCluster): Promise<void> {
  for (const node of cluster.nodes)
    await until(
      () => node.healthy(),
      60_000,
      () => `${node.name} did not come back`,
    )
}

function pause(milliseconds: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, milliseconds))
}
