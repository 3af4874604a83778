import { Names } from '@musterbook/ledger/jetstream-names'
import { connect } from '@nats-io/transport-node'
import { expect, test } from 'vitest'
import { until } from '../faults/nats-cluster.ts'
import { passwords, started, wordsFor } from './processes.ts'
import { openDay } from './short-day.ts'
import { carryIn, floorOf, onASite, placesIn, rehearsal, setUpOnSqlite, type Site } from './site.ts'

test('one day that cannot be read keeps nothing else from starting over NATS: it is shown, takes nothing, and the others run', async () => {
  await onASite(1, rehearsal(60), async (site) => {
    const { academy } = await setUpOnSqlite(site, async () => null)
    await carryIn(site)
    const before = await startAll(site)
    const bentDay = await openDay(before.address, academy, site.clock.now)
    const goodDay = await openDay(before.address, academy, site.clock.now, '2027-05-12')
    const floor = await floorOf({ ...academy, dayId: goodDay }, before.address)
    expect(await before.process.stop()).toBe(0)
    await bend(site, `day/${bentDay}`)

    const { address } = await startAll(site)
    floor.moveTo(address)
    const { studentId } = academy.students[0]!
    const greeted = await floor.tell('Greeter', 'checkIn', { studentId, secondIdentifier: 'photo' })
    expect(greeted.status).toBe(201)
    const { atLeast } = greeted.body['recorded'] as { atLeast: number }
    const seen = await floor.client('Greeter').get(`/api/days/${goodDay}/views/board/all?atLeast=${atLeast}`)
    expect(seen.body['version']).toBe(atLeast)

    // What the projections tell of themselves takes a second to arrive.
    let stopped: Stopped[] = []
    const isHeard = async () => {
      const { body } = await floor.client('Office desk').get('/health')
      stopped = (body['projections'] as Stopped[]).filter((each) => each.stopped !== null)
      return stopped.some(({ dayId }) => dayId !== '')
    }
    await until(isHeard, 20_000, () => 'nobody says that a day has stopped')
    expect(new Set(stopped.map(({ dayId }) => dayId))).toEqual(new Set([bentDay]))
    expect(stopped[0]?.stopped).toContain(`entry 2 of day/${bentDay}`)

    const told = await fetch(`${address}/api/days/${bentDay}/check-ins`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', cookie: floor.client('Greeter').cookieHeader() },
      body: JSON.stringify({ envelope: floor.client('Greeter').stamp(), body: { studentId, secondIdentifier: 'photo' } }),
    })
    expect(told.status).toBe(503)
    expect(await told.text()).toContain('cannot be read')
  })
}, 180_000)

interface Stopped {
  dayId: string
  stopped: string | null
}

async function startAll(site: Site) {
  const { data, keyFile } = placesIn(site.folder)
  const words = ['--role', 'all', '--data', data, '--key', keyFile, '--port', '0', '--no-screens']
  const process = started([...wordsFor(site.nats), ...words, ...site.words])
  site.processes.push(process)
  const [, address = ''] = await process.says(/stands at (\S+)/, 60_000)
  return { process, address }
}

/** As the disk of a server, or a program that had no business there, might leave it. */
async function bend({ nats }: Site, stream: string): Promise<void> {
  const mover = await connect({ ...nats.connection, user: 'mover', pass: passwords['MUSTERBOOK_NATS_MOVER']! })
  await mover.request(new Names('musterbook').entries(stream), 'bent')
  await mover.close()
}
