/** Runs in a network of its own: starts three servers in theirs, cuts and mends lines while clients append, and prints its findings. */
import { mkdtempSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type Fault, moreAcknowledged, underFaults } from './cluster-faults.ts'
import type { Told } from './history.ts'
import { NatsNode, startNodes } from './nats-cluster.ts'
import { addressOf, cut, heal, makeNetworks, servers, within } from './networks.ts'
import type { CutOff } from './partitions.ts'

const [cutOff, rounds] = process.argv.slice(2)
const ports = { client: 4222, monitor: 8222, route: 6222 }
/** A line that says nothing is given up soon, so that a healed one is used soon. */
const impatient = 'ping_interval: "2s", ping_max: 2'
const settleMs = 1_500
const silenceMs = 8_000

const say = (line: object) => console.log(JSON.stringify(line))
const folder = mkdtempSync(join(tmpdir(), 'partitions-'))
makeNetworks()
const nodes = servers.map((name) => {
  const routes = servers.filter((other) => other !== name).map((other) => `nats-route://${addressOf(other, name)}:${ports.route}`)
  const host = addressOf(name, 'client')
  return new NatsNode(folder, name, { ports, listens: '0.0.0.0', host, routes, within: within(name) }, impatient)
})
const cluster = await startNodes(nodes, folder)
try {
  const faults: Record<CutOff, Fault> = { one: oneCutOff, two: twoCutOff, leaderFromOthers: leaderAlone }
  say({ findings: await underFaults(cluster, Number(rounds), faults[cutOff as CutOff], (round) => say({ round })) })
} finally {
  await cluster.stop()
}
process.exit()

/** The one that leads: the other two go on without it. */
async function oneCutOff(...[leader, heard]: Parameters<Fault>): Promise<void> {
  const place = placeOf(leader)
  cut(place)
  await moreAcknowledged(heard, 30)
  heal(place)
}

/** Clients may stay with a leader that has nobody left to follow it: what it cannot keep, it must not acknowledge. */
async function leaderAlone(...[leader]: Parameters<Fault>): Promise<void> {
  const place = placeOf(leader)
  cut(place, servers)
  await pause(silenceMs)
  heal(place)
}

/** Nobody has two of three: nothing more is acknowledged until the lines are mended. */
async function twoCutOff(...[leader, heard]: Parameters<Fault>): Promise<string | void> {
  const gone = [placeOf(leader), servers.find((name) => name !== leader.name)!]
  for (const place of gone) cut(place)
  await pause(settleMs)
  const before = acknowledgedIn(heard)
  await pause(silenceMs)
  const since = acknowledgedIn(heard) - before
  for (const place of gone) heal(place)
  return since > 0 ? `${since} commands were acknowledged while two of three servers were cut off` : undefined
}

function placeOf({ name }: NatsNode) {
  return servers.find((each) => each === name)!
}

function acknowledgedIn(heard: ReadonlyMap<string, Told>): number {
  return [...heard.values()].filter(({ acknowledged }) => acknowledged).length
}

function pause(milliseconds: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, milliseconds))
}
