import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { demoPolicy } from '@musterbook/heat/policies'
import type { Entry, Ledger } from '@musterbook/ledger/ledger'
import { memoryLedger } from '@musterbook/ledger/memory'
import { sqliteLedger } from '@musterbook/ledger/sqlite'
import type { ReadingId, SiteId, ZoneId } from '@musterbook/vocabulary/ids'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { celsius, envelope, hotReading, mildReading, safetyOfficer } from './controls.ts'
import { CommandIdReused, openWeather } from './weather.ts'

const start = Date.UTC(2027, 4, 11, 8, 0)
const minute = 60_000
const site = 'site/skarnvale'
const siteId = 'skarnvale' as SiteId
const readingId = (id: string) => id as ReadingId

describe.each(['memory', 'SQLite'])('the weather service on a ledger in %s', (kind) => {
  let folder: string
  let ledger: Ledger
  let now: number
  const clock = { now: () => now }
  const open = (on = ledger) => openWeather({ ledger: on, clock, policyOf: async () => demoPolicy })

  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'weather-'))
    ledger = kind === 'memory' ? memoryLedger() : sqliteLedger({ file: join(folder, 'ledger.sqlite') })
    now = start
  })
  afterEach(async () => {
    await ledger.close()
    rmSync(folder, { recursive: true })
  })

  test('a reading that crosses stands beside the hold that it calls for, in one entry', async () => {
    const receipt = await open().take(hotReading(), safetyOfficer, envelope('c1', start))
    expect(receipt).toEqual({
      siteVersion: 1,
      wbgtTenths: 285,
      unit: 'degC',
      band: '28.0 and above',
      usable: true,
      questions: [],
      calledHold: true,
    })
    const [entry] = await all(ledger, site)
    expect(entry?.events).toMatchObject([
      { type: 'readingTaken', readingId: 'reading-1', readBy: 'rashid', wbgtTenths: 285, method: 'components' },
      { type: 'holdCalledFor', holdId: 'heat-1', readingId: 'reading-1', zoneId: 'track', policyId: 'HP-1' },
    ])
    expect(await open().headOf(siteId)).toBe(1)
  })

  test('a reading on the bound calls for a hold, and one tenth below it does not', async () => {
    const weather = open()
    const shown = (tenths: number, id: string) =>
      hotReading({ readingId: readingId(id), instrumentId: id, naturalWetBulb: null, globe: null, dryBulb: null, wbgt: celsius(tenths) })
    expect(await weather.take(shown(280, 'on'), safetyOfficer, envelope('c1', start))).toMatchObject({ wbgtTenths: 280, calledHold: true })
    expect(await weather.take(shown(279, 'under'), safetyOfficer, envelope('c2', start))).toMatchObject({
      wbgtTenths: 279,
      calledHold: false,
    })
  })

  test('told both ways, the hotter one governs', async () => {
    const both = hotReading({ wbgt: celsius(270) })
    expect(await open().take(both, safetyOfficer, envelope('c1', start))).toMatchObject({ wbgtTenths: 285, calledHold: true })
    const cooler = mildReading({ readingId: readingId('r2'), instrumentId: 'meter-2', wbgt: celsius(281) })
    expect(await open().take(cooler, safetyOfficer, envelope('c2', start))).toMatchObject({ wbgtTenths: 281, calledHold: true })
  })

  test('told twice, it is kept once and answered alike; the same id with another reading is turned away', async () => {
    const first = await open().take(hotReading(), safetyOfficer, envelope('c1', start))
    await open().take(mildReading({ readingId: readingId('r2') }), safetyOfficer, envelope('c2', start + 40 * minute))
    expect(await open().take(hotReading(), safetyOfficer, envelope('c1', start))).toEqual(first)
    await expect(open().take(mildReading(), safetyOfficer, envelope('c1', start))).rejects.toThrow(CommandIdReused)
    expect(await versions(ledger, site)).toEqual([1, 2])
  })

  test('two weather processes told the same keep it once, and different readings all', async () => {
    const [one, other] = [open(), open()]
    const told = Array.from({ length: 12 }, (_, index) => index)
    const receipts = await Promise.all(
      told.flatMap((index) =>
        [one, other].map((weather) =>
          weather.take(
            hotReading({ readingId: readingId(`r${index}`), instrumentId: `meter-${index}` }),
            safetyOfficer,
            envelope(`c${index}`, start),
          ),
        ),
      ),
    )
    for (const index of told) expect(receipts[2 * index]).toEqual(receipts[2 * index + 1])
    expect(await versions(ledger, site)).toEqual(told.map((index) => index + 1))
    const holds = (await all(ledger, site)).flatMap((entry) => entry.events.filter((event) => event.type === 'holdCalledFor'))
    expect(new Set(holds.map((hold) => hold['holdId'])).size).toBe(12)
  })

  test('when the ledger does not say, it is looked up and not kept twice', async () => {
    let failures = 0
    const forgetful: Ledger = {
      ...ways(ledger),
      append: async (...told) => {
        const answer = await ledger.append(...told)
        if (failures++ === 0) throw new Error('the line went dead after the entry was kept')
        return answer
      },
    }
    expect(await open(forgetful).take(hotReading(), safetyOfficer, envelope('c1', start))).toMatchObject({ siteVersion: 1 })
    expect(await versions(ledger, site)).toEqual([1])
  })

  test('an odd reading is kept and asked about; answered, it counts', async () => {
    const odd = mildReading({ globe: celsius(240) })
    const asked = await open().take(odd, safetyOfficer, envelope('c1', start))
    expect(asked).toMatchObject({ usable: false, questions: ['globeBelowDryBulb', 'globeNearDryBulbInSun'], wbgtTenths: 213 })
    const answered = { ...odd, readingId: readingId('r2'), confirmed: ['globeBelowDryBulb'] }
    expect(await open().take(answered, safetyOfficer, envelope('c2', start))).toMatchObject({
      usable: false,
      questions: ['globeNearDryBulbInSun'],
    })
    const all = { ...odd, readingId: readingId('r3'), confirmed: asked.questions }
    expect(await open().take(all, safetyOfficer, envelope('c3', start))).toMatchObject({ usable: true, questions: [] })
  })

  test('what cannot be is kept, and counts for nothing', async () => {
    const receipt = await open().take(hotReading({ dryBulb: celsius(820) }), safetyOfficer, envelope('c1', start))
    expect(receipt).toMatchObject({ usable: false, questions: expect.arrayContaining(['dryBulbOutsideSensor']), calledHold: false })
    const missing = hotReading({ readingId: readingId('r2'), globe: null })
    expect(await open().take(missing, safetyOfficer, envelope('c2', start))).toMatchObject({
      wbgtTenths: null,
      band: '',
      usable: false,
      questions: ['valueMissing'],
    })
    expect(await versions(ledger, site)).toEqual([1, 2])
  })

  test('a jump against the last reading there is asked about, after a restart as well', async () => {
    await open().take(mildReading(), safetyOfficer, envelope('c1', start))
    const jump = await open().take(hotReading({ readingId: readingId('r2') }), safetyOfficer, envelope('c2', start + 10 * minute))
    expect(jump).toMatchObject({ usable: false, questions: ['jumpedSinceLastReading'], calledHold: true })
    const elsewhere = hotReading({ readingId: readingId('r3'), zoneId: 'yard' as ZoneId })
    expect(await open().take(elsewhere, safetyOfficer, envelope('c3', start + 11 * minute))).toMatchObject({ usable: true, questions: [] })
  })

  test('one that had not settled may raise and asks nothing', async () => {
    const receipt = await open().take(hotReading({ settled: false }), safetyOfficer, envelope('c1', start))
    expect(receipt).toMatchObject({ usable: true, questions: [], calledHold: true })
  })

  test('an aspirated wet bulb in sun is kept as an estimate', async () => {
    await open().take(hotReading({ wetBulbKind: 'psychrometric' }), safetyOfficer, envelope('c1', start))
    expect((await all(ledger, site))[0]?.events[0]).toMatchObject({ method: 'estimate' })
  })

  test('without an adopted policy a reading is kept and calls for nothing', async () => {
    const weather = openWeather({ ledger, clock, policyOf: async () => undefined })
    expect(await weather.take(hotReading(), safetyOfficer, envelope('c1', start))).toMatchObject({
      wbgtTenths: 285,
      band: '',
      calledHold: false,
    })
  })
})

function ways(ledger: Ledger): Ledger {
  return {
    read: (...told) => ledger.read(...told),
    head: (...told) => ledger.head(...told),
    streams: (...told) => ledger.streams(...told),
    find: (...told) => ledger.find(...told),
    append: (...told) => ledger.append(...told),
    seal: (...told) => ledger.seal(...told),
    follow: (...told) => ledger.follow(...told),
    close: () => ledger.close(),
  }
}

async function all(ledger: Ledger, stream: string): Promise<Entry[]> {
  const entries: Entry[] = []
  for await (const entry of ledger.read(stream, 0)) entries.push(entry)
  return entries
}

const versions = async (ledger: Ledger, stream: string) => (await all(ledger, stream)).map((entry) => entry.version)
