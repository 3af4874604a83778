import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { emptyDay } from '@musterbook/day/day'
import { evolve } from '@musterbook/day/evolve'
import { dayViews } from '@musterbook/day/views'
import { canonical } from '@musterbook/evidence/canonical'
import { sqliteLedger } from '@musterbook/ledger/sqlite'
import type { DayId } from '@musterbook/vocabulary/ids'
import { expect, test } from 'vitest'
import { wholeDay, write } from './controls.ts'
import { openProjections } from './projections.ts'
import { openStore } from './store.ts'

const plain = (value: unknown): unknown => JSON.parse(JSON.stringify(value))

test('a whole day of forty: live and built anew, every row is the view of the day, and what did not change was not made', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'projections-'))
  const file = join(folder, 'views.sqlite')
  const ledger = sqliteLedger({ file: join(folder, 'ledger.sqlite') })
  let made = 0
  const views = {
    ...dayViews,
    record: { ...dayViews.record, of: (...asked: Parameters<typeof dayViews.record.of>) => (made++, dayViews.record.of(...asked)) },
  }
  const projections = openProjections({ ledger, file, views })
  const { day, entries } = wholeDay('d1')
  expect(entries.length).toBeGreaterThan(2_000)
  expect([...day.anomalies]).toEqual([])

  const rows = () => {
    const store = openStore(file)
    const kept = new Map(store.rowsOf('d1').map((row) => [`${row.projection} ${row.key}`, canonical(JSON.parse(row.body))]))
    store.close()
    return kept
  }

  const began = performance.now()
  await write(ledger, entries)
  await projections.get('d1', 'board', 'all', entries.length)
  const liveMs = performance.now() - began
  let asKept = emptyDay('d1' as DayId)
  for await (const entry of ledger.read('day/d1', 0)) asKept = evolve(asKept, entry)
  const expected = Object.entries(dayViews).flatMap(([projection, view]) =>
    view.keys(asKept).map((key) => [`${projection} ${key}`, canonical(plain(view.of(asKept, key)))] as const),
  )
  const differing = () => {
    const kept = rows()
    return expected.filter(([name, text]) => kept.get(name) !== text).map(([name]) => name)
  }
  expect(differing()).toEqual([])
  expect(rows().size).toBe(expected.length)
  // Far fewer than forty records an entry; a bound that only a lost memo would break.
  expect(made).toBeLessThan(5 * entries.length)

  await projections.rebuild()
  expect(differing()).toEqual([])
  expect(rows().size).toBe(expected.length)
  expect(liveMs).toBeLessThan(30_000)
  await projections.close()
  await ledger.close()
  rmSync(folder, { recursive: true })
})
