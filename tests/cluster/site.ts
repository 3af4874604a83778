import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { demoAcademy, type DemoAcademy } from '@musterbook/office/demo-academy'
import { demoMorning } from '../../ops/academy.ts'
import type { HouseClock } from '../../ops/clock.ts'
import { Floor, type AcademyNotes } from '../../ops/demo/floor.ts'
import { paceOf } from '../../ops/demo/pace.ts'
import { DeviceClient } from '../../ops/device-client.ts'
import { composeHouse, type House } from '../../ops/house.ts'
import { sharedClock } from '../../ops/processes/shared-clock.ts'
import type { NatsCluster } from '../faults/nats-cluster.ts'
import { ledger, started, type Spawned, startShippedNats, wordsFor } from './processes.ts'

/** The clock of a site, and the words that give every process the same. */
interface SiteClock {
  readonly clock: HouseClock
  readonly words: readonly string[]
}

export interface Site extends SiteClock {
  readonly folder: string
  readonly processes: Spawned[]
  readonly nats: NatsCluster
}

/** A rehearsal on the demonstration's morning, so many times as fast. */
export function rehearsal(speed: number): SiteClock {
  const since = Date.now()
  return {
    clock: sharedClock({ speed, startsAt: demoMorning, since }),
    words: ['--speed', String(speed), '--at', new Date(demoMorning).toISOString(), '--since', new Date(since).toISOString()],
  }
}

/** A site of its own, with its servers; whatever happens there, nothing of it is left. */
export async function onASite<Result>(servers: 1 | 3, time: SiteClock, day: (site: Site) => Promise<Result>): Promise<Result> {
  const folder = mkdtempSync(join(tmpdir(), 'site-'))
  const processes: Spawned[] = []
  const nats = await startShippedNats(servers)
  try {
    return await day({ folder, ...time, processes, nats })
  } finally {
    await Promise.all(processes.map((each) => each.kill()))
    await nats.stop()
    rmSync(folder, { recursive: true, force: true })
  }
}

/** The academy in an ordinary house, closed again: its data and its key lie in the folder. */
export async function academyIn<Opened>(
  { folder, clock }: Pick<Site, 'folder' | 'clock'>,
  more: (house: House, academy: DemoAcademy) => Promise<Opened>,
): Promise<{ academy: DemoAcademy; opened: Opened }> {
  const { speed } = clock
  const house = await composeHouse({ ...placesIn(folder), port: 0, host: '127.0.0.1', speed, clock, pinCost: 16 })
  const academy = await demoAcademy(house.office, clock.now())
  const opened = await more(house, academy)
  await house.close()
  return { academy, opened }
}

export const placesIn = (folder: string) => ({ data: join(folder, 'data'), keyFile: join(folder, 'key') })

/** The same, with an export of its ledger beside it. */
export async function setUpOnSqlite<Opened>(site: Site, more: (house: House, academy: DemoAcademy) => Promise<Opened>) {
  const made = await academyIn(site, more)
  await ledger(['export', '--data', placesIn(site.folder).data, '--out', join(site.folder, 'begun.jsonl')])
  return made
}

/** The heads that stood before, for whoever looks afterwards. */
export async function carryIn({ folder, nats }: Site): Promise<string> {
  await ledger(['import', ...wordsFor(nats), '--from', join(folder, 'begun.jsonl')], 'mover')
  const kept = join(folder, 'head.json')
  writeFileSync(kept, await ledger(['head', '--data', join(folder, 'data')]))
  return kept
}

const saysThatItStands = {
  testday: /testday takes commands/,
  weather: /weather takes readings/,
  projections: /projections answers screens/,
  gateway: /stands at (\S+)/,
} as const
export type Service = keyof typeof saysThatItStands

/** One service in a process of its own, once it says that it stands. */
export async function startService(
  { folder, nats, words, processes }: Site,
  role: Service,
  port = 0,
): Promise<{ process: Spawned; address: string }> {
  const own: Record<Service, readonly string[]> = {
    testday: [],
    weather: [],
    projections: ['--data', join(folder, 'projections')],
    gateway: ['--data', join(folder, 'data'), '--key', join(folder, 'key'), '--port', String(port), '--no-screens'],
  }
  const process = started([...wordsFor(nats), '--role', role, ...words, ...own[role]])
  processes.push(process)
  const [, address = ''] = await process.says(saysThatItStands[role], 60_000)
  return { process, address }
}

export async function startServices(site: Site) {
  const [one, other, , , , gateway] = await Promise.all(
    (['testday', 'testday', 'weather', 'weather', 'projections', 'gateway'] as const).map((role) => startService(site, role)),
  )
  return { address: gateway!.address, testdays: [one!.process, other!.process] }
}

export async function floorOf(notes: AcademyNotes, address: string): Promise<Floor> {
  const heard = await new DeviceClient(address, 'Clock', () => 0).get('/api/clock')
  const floor = new Floor(notes, paceOf(heard.body as { now: number; speed: number }))
  await floor.takeUp(address)
  return floor
}
