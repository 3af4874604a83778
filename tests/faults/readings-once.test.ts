import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { demoPolicy } from '@musterbook/heat/policies'
import type { Entry, Ledger } from '@musterbook/ledger/ledger'
import { memoryLedger } from '@musterbook/ledger/memory'
import { sqliteLedger } from '@musterbook/ledger/sqlite'
import { command, eventually, minute, opening, start } from '@musterbook/testday/controls'
import { openTestDay } from '@musterbook/testday/testday'
import type { ReadingId, SiteId } from '@musterbook/vocabulary/ids'
import { envelope, hotReading, mildReading, safetyOfficer } from '@musterbook/weather/controls'
import { openWeather } from '@musterbook/weather/weather'
import { describe, expect, test } from 'vitest'

/** A reading, and the hold that it calls for, stand in every open day of the site exactly once, whatever runs twice. */
describe.each(['memory', 'SQLite'])('two weather services and two test-day services on one ledger in %s', (kind) => {
  test('each reading reaches both open days once, in order, with one hold', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'readings-'))
    const ledger: Ledger = kind === 'memory' ? memoryLedger() : sqliteLedger({ file: join(folder, 'ledger.sqlite') })
    const clock = { now: () => start + 30 * minute }
    const siteId = 'skarnvale' as SiteId
    const weathers = [1, 2].map(() => openWeather({ ledger, clock, policyOf: async () => demoPolicy }))
    const siteHead = (site: SiteId) => weathers[0]!.headOf(site)
    const testdays = [1, 2].map(() => openTestDay({ ledger, clock, rehearsalOnly: false, siteHead }))
    await Promise.all(['d1', 'd2'].map((day, index) => testdays[index]!.tell(command(day, 'openDay', opening(day)))))

    const told = Array.from({ length: 10 }, (_, index) => index + 1)
    const readings = told.map((each) => {
      const reading = { readingId: `r${each}` as ReadingId, siteId, instrumentId: `meter-${each}` }
      return { reading: each >= 5 ? hotReading(reading) : mildReading(reading), envelope: envelope(`c${each}`, start + each * minute) }
    })
    // Every reading is told to both, as by a tablet that does not know whether it was heard.
    await Promise.all(
      readings.flatMap(({ reading, envelope }) => weathers.map((weather) => weather.take(reading, safetyOfficer, envelope))),
    )
    expect(await weathers[1]!.headOf(siteId)).toBe(10)

    for (const day of ['day/d1', 'day/d2']) {
      await eventually(
        () => ledger.head(day),
        (head) => head.version >= 11,
      )
      const events = (await entriesOf(ledger, day)).flatMap((entry) => entry.events)
      const received = events.filter((event) => event.type === 'readingReceived')
      expect(received.map((event) => event['siteVersion'])).toEqual(told)
      expect(new Set(received.map((event) => event['readingId'])).size).toBe(10)
      expect(events.filter((event) => event.type === 'holdRaised')).toHaveLength(1)
    }
    await Promise.all(testdays.map((testday) => testday.close()))
    expect((await ledger.head('day/d1')).version).toBe(11)
    await ledger.close()
    rmSync(folder, { recursive: true })
  })
})

async function entriesOf(ledger: Ledger, stream: string): Promise<Entry[]> {
  const entries: Entry[] = []
  for await (const entry of ledger.read(stream, 0)) entries.push(entry)
  return entries
}
