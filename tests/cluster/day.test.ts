import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { DayView } from '@musterbook/day/views'
import { describe, expect, test } from 'vitest'
import { openDemoDay } from '../../ops/academy.ts'
import type { Floor } from '../../ops/demo/floor.ts'
import { liveEvents } from '../../ops/testing/http-device.ts'
import { siteWithoutCentre } from './leaf.ts'
import { ledger, wordsFor } from './processes.ts'
import { entriesIn, faultsAgainst, startsUnderHold } from './record.ts'
import { end, holdAgainstStarts, morning, openDay, run } from './short-day.ts'
import { carryIn, floorOf, onASite, rehearsal, setUpOnSqlite, type Site, startServices } from './site.ts'

describe.concurrent('over NATS', () => {
  test('a day on one server: a killed testday process and a killed server in the middle of a wave lose and double nothing', async () => {
    await onASite(1, rehearsal(60), async (site) => {
      const { academy } = await setUpOnSqlite(site, async () => null)
      await carryIn(site)
      const { address, testdays } = await startServices(site)

      const dayId = await openDay(address, academy, site.clock.now)
      const floor = await floorOf({ ...academy, dayId }, address)
      await morning(floor)
      const seenLive = watchesHold(floor)
      const server = site.nats.nodes[0]!
      await run(floor, {
        2: () => testdays[0]!.kill(),
        4: async () => {
          await server.kill()
          await server.start()
        },
      })
      await holdAndEnd(floor)
      expect(await seenLive).toBe(true)
      await recordHolds(site, floor)
    })
  }, 240_000)

  test('a day begun on SQLite is carried into a cluster of three, loses a server and a process in the middle of a wave, and ends sealed', async () => {
    await onASite(3, rehearsal(60), async (site) => {
      const { opened: floor } = await setUpOnSqlite(site, async (house, academy) => {
        const begun = await floorOf({ ...academy, dayId: await openDemoDay(house, academy) }, house.address)
        const { studentId } = academy.students[39]!
        await begun.tell('Greeter', 'checkIn', { studentId, secondIdentifier: 'photo' })
        await begun.tell('Greeter', 'withdraw', { studentId })
        return begun
      })
      const kept = await carryIn(site)
      const { address, testdays } = await startServices(site)

      // The same tablets at another address: they stay enrolled, and screens are signed on again.
      floor.moveTo(address)
      await morning(floor)
      await run(floor, {
        2: async () => (await site.nats.leaderOf(`musterbook_day_2f${floor.notes.dayId}`)).kill(),
        4: () => testdays[1]!.kill(),
      })
      await holdAndEnd(floor)
      const exported = await recordHolds(site, floor)
      // What stood on SQLite stands there still, entry by entry.
      expect(await ledger(['verify', '--from', exported, '--head', kept])).toMatch(/fit/)
      await proofHolds(site, floor)
    })
  }, 240_000)

  test('a site goes on with the centre absent, the centre catches up, and it can change nothing at the site', siteWithoutCentre, 240_000)
})

async function holdAndEnd(floor: Floor): Promise<void> {
  expect(await holdAgainstStarts(floor)).toEqual({ refusedAfter: 'holdInForce' })
  const { version } = await end(floor)
  const desk = floor.client('Office desk')
  const sealed = await desk.get(`/api/days/${floor.notes.dayId}/views/day/all?atLeast=${version}`)
  expect(sealed.body['body'] as DayView).toMatchObject({ state: 'sealed' })

  // What comes after the seal is told on, and a view that shows it can be asked for.
  const late = { observationId: 'late', waveId: 'wave-1', studentId: floor.notes.students[0]!.studentId, line: 'lap' }
  const heard = await floor.client('Track 1').tell(floor.notes.dayId, 'recordCrossing', late)
  const { atLeast } = heard.body['recorded'] as { atLeast: number }
  expect(heard.body['recorded']).toMatchObject({ stream: `after/${floor.notes.dayId}`, version: 1, atLeast: version + 1 })
  const seen = await desk.get(`/api/days/${floor.notes.dayId}/views/day/all?atLeast=${atLeast}`)
  expect(seen.body['version']).toBeGreaterThanOrEqual(version + 1)
  expect((await desk.get('/health')).body).toMatchObject({ ok: true })
}

/** Exports the cluster's ledger and holds it against everything that was acknowledged. */
async function recordHolds({ folder, nats }: Site, floor: Floor): Promise<string> {
  const file = join(folder, 'exported.jsonl')
  // The monitoring address of a killed server does not answer; it is started again before anything new connects.
  for (const node of nats.nodes) if (!(await node.healthy())) await node.start()
  await ledger(['export', ...wordsFor(nats), '--out', file], 'projections')
  const entries = entriesIn(file, `day/${floor.notes.dayId}`)
  expect(floor.acknowledged.length).toBeGreaterThan(100)
  expect(faultsAgainst(floor.acknowledged, entries)).toEqual([])
  expect(startsUnderHold(entries)).toEqual([])
  expect(entries.flatMap(({ events }) => events.map(({ type }) => type))).toContain('holdRaised')
  expect(entries.at(-1)!.events.map(({ type }) => type)).toContain('daySealed')
  expect(await ledger(['verify', '--from', file])).toMatch(/fit/)
  return file
}

/** A runner's proof against the seal, by the stand-alone verifier: with the printed fingerprint it holds, with another it does not. */
async function proofHolds({ folder }: Site, floor: Floor): Promise<void> {
  const desk = floor.client('Office desk')
  const { fingerprint } = (await desk.get(`/api/days/${floor.notes.dayId}/seal`)).body as { fingerprint: string }
  const { body: proof } = await desk.get(`/api/days/${floor.notes.dayId}/proofs/${floor.notes.students[0]!.studentId}`)
  const file = join(folder, 'proof.json')
  writeFileSync(file, JSON.stringify(proof))
  expect(await ledger(['proof', '--from', file, '--fingerprint', fingerprint])).toContain('are those that were sealed')
  const other = fingerprint.replace(/^[0-9a-f]/, (digit) => (digit === '0' ? '1' : '0'))
  await expect(ledger(['proof', '--from', file, '--fingerprint', other])).rejects.toThrow()
}

/** Follows the board of holds over HTTP, through whatever happens to the processes behind it. */
async function watchesHold(floor: Floor): Promise<boolean> {
  const client = floor.client('Safety')
  const path = `${client.address}/api/days/${floor.notes.dayId}/live/safety/all`
  const live = await fetch(path, { headers: { cookie: client.cookieHeader() } })
  for await (const { data } of liveEvents(live)) {
    if ((data.body as { holds: unknown[] }).holds.length > 0) return true
  }
  return false
}
