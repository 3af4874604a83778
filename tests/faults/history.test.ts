import { draft } from '@musterbook/ledger/controls'
import type { Entry } from '@musterbook/ledger/ledger'
import { memoryLedger } from '@musterbook/ledger/memory'
import { beforeAll, describe, expect, test } from 'vitest'
import { collect } from './clients.ts'
import { historyFaults, lostAndDoubled, type Told } from './history.ts'

describe('the history checker', () => {
  let entries: Entry[]
  let told: Told[]
  beforeAll(async () => {
    const ledger = memoryLedger()
    for (let version = 0; version < 4; version++) await ledger.append('day/1', version, draft(`c${version + 1}`))
    entries = await collect(ledger.read('day/1', 0))
    told = entries.map(({ version, hash, meta }) => ({
      stream: 'day/1',
      commandId: meta.commandId,
      askedAt: version * 10,
      acknowledged: { at: version * 10 + 5, version, hash },
    }))
  })
  const faults = (changed: { told?: Told[]; entries?: Entry[]; hashes?: string[] }) =>
    historyFaults(changed.told ?? told, new Map([['day/1', changed.entries ?? entries]]), [
      { stream: 'day/1', hashes: changed.hashes ?? [] },
    ])

  test('finds nothing where nothing is wrong', () => {
    expect(faults({ hashes: entries.slice(0, 2).map((entry) => entry.hash) })).toEqual([])
    const unheard = { stream: 'day/1', commandId: 'c4', askedAt: 40 }
    expect(faults({ told: [...told.slice(0, 3), unheard] })).toEqual([])
    expect(faults({ told: [...told.slice(0, 3), unheard], entries: entries.slice(0, 3) })).toEqual([])
  })

  test('finds what was lost', () => {
    expect(faults({ entries: entries.slice(0, 3) })).toEqual(['c4 was acknowledged as 4 and is not there'])
  })

  test('finds a stream that is gone altogether, and counts what was lost', () => {
    expect(historyFaults(told, new Map())).toHaveLength(4)
    expect(lostAndDoubled(told, new Map())).toEqual({ lost: 4, doubled: 0 })
    expect(lostAndDoubled(told, new Map([['day/1', [...entries, entries[0]!]]]))).toEqual({ lost: 0, doubled: 1 })
  })

  test('finds events that are not those of the answer', () => {
    const answered = (events: readonly unknown[]) => ({ at: 15, version: 1, events })
    expect(faults({ told: told.with(0, { ...told[0]!, acknowledged: answered(entries[0]!.events) }) })).toEqual([])
    expect(faults({ told: told.with(0, { ...told[0]!, acknowledged: answered([{ type: 'other' }]) }) })).toEqual(['c1 is there changed'])
  })

  test('finds what was doubled', () => {
    expect(faults({ entries: [...entries, { ...entries[0]!, version: 5 }] })).toEqual(['c1 stands there 2 times'])
  })

  test('finds what was changed', () => {
    expect(faults({ entries: entries.with(1, { ...entries[1]!, hash: 'other' }) })).toEqual(['c2 is there changed'])
  })

  test('finds what nobody asked for', () => {
    expect(faults({ told: told.slice(1) })).toEqual(['nobody asked for c1'])
  })

  test('finds a gap in the numbers', () => {
    expect(faults({ told: told.slice(0, 3), entries: [...entries.slice(0, 3), { ...entries[3]!, version: 6 }] })).toContain(
      'day/1 holds 6 where 4 belongs',
    )
  })

  test('finds what stands in another order than it happened', () => {
    expect(faults({ told: told.with(0, { ...told[0]!, askedAt: 30 }) })).toEqual([
      'c1 was asked for after c2 was acknowledged, and stands before it',
    ])
  })

  test('finds a reader who was given what was never there', () => {
    expect(faults({ hashes: [entries[0]!.hash, entries[2]!.hash] })).toEqual(['a reader of day/1 was given as entry 2 what is not there'])
  })
})
