import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Entry, LedgerReader } from '@musterbook/ledger/ledger'
import { sqliteLedger } from '@musterbook/ledger/sqlite'
import { fileFaults } from '@musterbook/ledger/sqlite-check'
import { sqliteReader } from '@musterbook/ledger/sqlite-reader'
import type { DemoAcademy } from '@musterbook/office/demo-academy'
import type { HouseClock } from '../../ops/clock.ts'
import type { Floor } from '../../ops/demo/floor.ts'
import { ledgerFile } from '../../ops/paths.ts'
import { natsLedger, natsSettings } from '../../ops/processes/nats-settings.ts'
import { passwords, started, type Spawned } from '../cluster/processes.ts'
import { morning, openDay } from '../cluster/short-day.ts'
import { academyIn, carryIn, floorOf, onASite, placesIn, type Service, setUpOnSqlite, type Site, startService } from '../cluster/site.ts'
import { BusyFloor } from './busy-floor.ts'
import { collect } from './clients.ts'
import { type Findings, newFindings } from './findings.ts'
import { judge } from './house-judged.ts'
import { freePort, until } from './nats-cluster.ts'

type Progress = (round: number) => void

const clock: HouseClock = { now: () => Date.now(), speed: 1, rehearsalOnly: false }
const enoughAnswers = 30

/** The whole house in one process over SQLite: ended without warning under load, again and again, and held against what its tablets were told. */
export async function killHouse(rounds: number, progress: Progress): Promise<Findings> {
  const folder = mkdtempSync(join(tmpdir(), 'house-'))
  const findings = newFindings()
  const { data, keyFile } = placesIn(folder)
  const port = await freePort()
  let house: Spawned | undefined
  const start = async () => {
    house = started(['--port', String(port), '--no-screens', '--data', data, '--key', keyFile])
    await house.says(/stands at (\S+)/, 60_000)
  }
  try {
    const { academy } = await academyIn({ folder, clock }, async () => null)
    await start()
    const floor = await openFloor(academy, `http://127.0.0.1:${port}`)
    const reader = sqliteReader({ file: ledgerFile(data) })
    const { busy, before } = await beginLoad(floor, reader)
    await reader.close()
    for (let round = 1; round <= rounds; round++) {
      await moreAnswers(busy)
      await house!.kill()
      await start()
      progress(round)
    }
    await moreAnswers(busy)
    await busy.stop()
    await rowsAreWritten(floor, busy)
    await house!.stop()
    await sqliteLedger({ file: ledgerFile(data) }).close()
    findings.faults.push(...fileFaults(ledgerFile(data)))
    const after = sqliteReader({ file: ledgerFile(data) })
    const { dayId } = floor.notes
    await judge(findings, { dayId, reader: after, views: join(data, 'views.sqlite'), floor: busy, before, rounds })
    await after.close()
    return findings
  } finally {
    await house?.kill()
    rmSync(folder, { recursive: true, force: true })
  }
}

/** What is done to one process; afterwards it runs, or has to be started again. */
type ServiceFault = 'kill -9' | 'pause'

/** The services over NATS: each of `roles` in turn is ended, or held still for a while, under load. One round is one of each. */
export function serviceFaults(roles: readonly Service[], fault: ServiceFault, rounds: number, progress: Progress): Promise<Findings> {
  return onASite(1, { clock, words: [] }, async (site) => {
    const findings = newFindings()
    const { academy } = await setUpOnSqlite(site, async () => null)
    await carryIn(site)
    const port = await freePort()
    const running = new Map<Service, Spawned>()
    const start = async (role: Service) => {
      const { process } = await startService(site, role, port)
      running.set(role, process)
    }
    await Promise.all((['testday', 'weather', 'projections', 'gateway'] as const).map(start))
    const reader = await readerOf(site)
    const floor = await openFloor(academy, `http://127.0.0.1:${port}`)
    const { busy, before } = await beginLoad(floor, reader)
    for (let round = 1; round <= rounds; round++) {
      for (const role of roles) {
        await moreAnswers(busy)
        if (fault === 'pause') await heldStill(running.get(role)!)
        else
          await running
            .get(role)!
            .kill()
            .then(() => start(role))
      }
      progress(round)
    }
    await moreAnswers(busy)
    await busy.stop()
    await rowsAreWritten(floor, busy)
    await running.get('projections')!.stop()
    const { dayId } = floor.notes
    const views = join(site.folder, 'projections', 'projections', 'views.sqlite')
    await judge(findings, { dayId, reader, views, floor: busy, before, rounds: rounds * roles.length })
    await reader.close()
    return findings
  })
}

async function openFloor(academy: DemoAcademy, address: string): Promise<Floor> {
  const dayId = await openDay(address, academy, clock.now)
  const floor = await floorOf({ ...academy, dayId }, address)
  await morning(floor)
  return floor
}

async function beginLoad(floor: Floor, reader: LedgerReader): Promise<{ busy: BusyFloor; before: Entry[] }> {
  const before = await collect(reader.read(`day/${floor.notes.dayId}`, 0))
  const busy = new BusyFloor(floor)
  await busy.begin()
  return { busy, before }
}

/** Long enough that connections stay open, nobody answers, and whoever waits gives up. */
async function heldStill({ child }: Spawned): Promise<void> {
  child.kill('SIGSTOP')
  await new Promise((resolve) => setTimeout(resolve, 4_000))
  child.kill('SIGCONT')
}

async function moreAnswers(busy: BusyFloor): Promise<void> {
  const before = busy.acknowledged
  await until(
    () => busy.acknowledged >= before + enoughAnswers,
    120_000,
    () => `only ${busy.acknowledged - before} commands were acknowledged within two minutes`,
  )
}

/** A view that has read as far as anybody was told. */
async function rowsAreWritten(floor: Floor, busy: BusyFloor): Promise<void> {
  const newest = Math.max(...[...busy.heard.values()].map(({ acknowledged }) => acknowledged?.version ?? 0))
  const path = `/api/days/${floor.notes.dayId}/views/safety/all?atLeast=${newest}`
  await until(
    async () => ((await floor.client('Safety').get(path)).body['version'] as number) >= newest,
    60_000,
    () => `no view has read as far as ${newest}`,
  )
}

function readerOf({ nats }: Site): Promise<LedgerReader> {
  const named = { nats: nats.connection.servers.join(), monitors: nats.monitors.join(), replicas: String(nats.nodes.length) }
  return natsLedger(natsSettings(named, passwords), 'projections')
}
