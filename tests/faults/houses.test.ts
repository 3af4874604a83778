import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { dayId } from '@musterbook/day/controls'
import type { DayViews } from '@musterbook/projections/rows'
import { dayViews } from '@musterbook/day/views'
import { foldOn, placeOf, unread } from '@musterbook/projections/folded-day'
import { openStore, type Row } from '@musterbook/projections/store'
import type { Draft, Entry } from '@musterbook/ledger/ledger'
import { memoryLedger } from '@musterbook/ledger/memory'
import { beforeAll, describe, expect, test } from 'vitest'
import { readGolden } from '../golden/golden.ts'
import { collect } from './clients.ts'
import { killHouse, serviceFaults } from './house-faults.ts'
import { rowFaults, shownFaults } from './house-judged.ts'

const services = ['testday', 'weather', 'projections', 'gateway'] as const

describe.concurrent('houses under fire (short; `npm run -s faults` is the long form)', () => {
  test('kill -9 of the whole house under load over HTTP', async () => {
    const findings = await killHouse(3, () => {})
    expect(findings.faults).toEqual([])
    expect(findings.acknowledged).toBeGreaterThan(90)
    expect(findings.refused).toBeGreaterThan(0)
  }, 240_000)

  test.each(['kill -9', 'pause'] as const)(
    '%s of each service over NATS under load',
    async (fault) => {
      const findings = await serviceFaults(services, fault, 1, () => {})
      expect(findings.faults).toEqual([])
      expect(findings.acknowledged).toBeGreaterThan(100)
    },
    240_000,
  )
})

describe('who judges a house', () => {
  const views: DayViews = dayViews
  let entries: Entry[]
  let rows: Row[]
  beforeAll(async () => {
    entries = await chained(readGolden('muster-1').entries.filter(({ stream }) => stream.startsWith('day/')) as unknown as Draft[])
    const folded = entries.reduce(foldOn, unread(dayId))
    const version = placeOf(folded)
    rows = Object.entries(views).flatMap(([projection, view]) =>
      view.keys(folded.day).map((key) => ({ projection, dayId, key, version, body: JSON.stringify(view.of(folded.day, key)) })),
    )
  })
  const faultsOf = (puts: Row[]) => {
    const folder = mkdtempSync(join(tmpdir(), 'judged-'))
    const file = join(folder, 'views.sqlite')
    const store = openStore(file)
    store.write({ puts, drops: [], checkpoints: [] })
    store.close()
    const faults = rowFaults(dayId, entries, file)
    rmSync(folder, { recursive: true })
    return faults
  }

  test('finds a row that is not what the day folds to, and one that is missing', () => {
    expect(rows.length).toBeGreaterThan(5)
    expect(faultsOf(rows)).toEqual([])
    expect(faultsOf(rows.with(0, { ...rows[0]!, body: '{}' }))).toHaveLength(1)
    expect(faultsOf(rows.slice(1))).toHaveLength(2)
  })

  test('finds a screen that showed what was never so, or went back', () => {
    const shownAt = (version: number) => {
      const { day } = entries.slice(0, version).reduce(foldOn, unread(dayId))
      return { version, body: JSON.parse(JSON.stringify(views['safety']!.of(day, 'all'))) as unknown }
    }
    expect(shownFaults(dayId, entries, [shownAt(3), shownAt(3), shownAt(9)])).toEqual([])
    expect(shownFaults(dayId, entries, [{ ...shownAt(3), body: { holds: 'none' } }])).toEqual([
      'the safety screen showed at 3 what was never so',
    ])
    expect(shownFaults(dayId, entries, [shownAt(9), shownAt(3)])).toEqual(['the safety screen went back to 3'])
  })
})

/** The golden files keep no hashes: as a ledger would have them. */
async function chained(drafts: readonly Draft[]): Promise<Entry[]> {
  const ledger = memoryLedger()
  for (const [version, draft] of drafts.entries()) await ledger.append(`day/${dayId}`, version, draft)
  return collect(ledger.read(`day/${dayId}`, 0))
}
