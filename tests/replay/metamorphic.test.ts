import fc from 'fast-check'
import { expect, test } from 'vitest'
import { evolve, type DayEntry } from '@musterbook/day/evolve'
import { emptyDay } from '@musterbook/day/day'
import { digest } from '@musterbook/evidence/canonical'
import { exportLines } from '@musterbook/ledger/export'
import { checkedEntries, importEntries } from '@musterbook/ledger/import'
import type { Draft, LedgerReader } from '@musterbook/ledger/ledger'
import { memoryLedger } from '@musterbook/ledger/memory'
import { recordBytes, recordBytesOf } from '@musterbook/replay/compare'
import { events, Scrubber } from '@musterbook/replay/moments'
import type { DayId } from '@musterbook/vocabulary/ids'
import { happenings, live } from '../day/random-day.ts'
import { goldenDay } from '../golden/day.ts'

/*
 * However a replay is come by, it is the same: read twice, in pieces, through an export, from a kept day and its tail, with
 * what does not concern one another told in another order. Random days and the one on which everything happens.
 */

const dayId = goldenDay()[0]!.stream.slice('day/'.length) as DayId
const days: readonly (readonly DayEntry[])[] = [
  goldenDay(),
  ...fc.sample(happenings(), { numRuns: 24, seed: 7 }).map((day) => live(day, () => {}).entries),
]
let seed = 1
const next = (below: number) => (seed = (seed * 48_271) % 2_147_483_647) % below

test('twice is once: nothing is kept between two replays, and none changes what it read', () => {
  for (const entries of days) {
    const before = digest(entries)
    const once = recordBytesOf(dayId, entries)
    expect(recordBytesOf(dayId, entries)).toBe(once)
    expect(digest(entries)).toBe(before)
  }
})

test('in pieces of any length, each read from its text, the day is the same', () => {
  for (const entries of days) {
    let day = emptyDay(dayId)
    for (let at = 0; at < entries.length;) {
      const piece = JSON.stringify(entries.slice(at, (at += 1 + next(40))))
      day = (JSON.parse(piece) as DayEntry[]).reduce(evolve, day)
    }
    expect(recordBytes(day)).toBe(recordBytesOf(dayId, entries))
  }
})

test('through a ledger, its export and the import into another, the records are the same', async () => {
  for (const entries of days) {
    const first = memoryLedger()
    for (const { stream, version, recordedAt, meta, events } of entries) {
      const whole = { ...meta, command: 'any', bodyDigest: digest(meta.commandId), seenVersion: 0 }
      expect(await first.append(stream, version - 1, { meta: whole, recordedAt, events } as Draft)).toHaveProperty('appended')
    }
    const second = memoryLedger()
    await importEntries(checkedEntries(exportLines(first)), second)
    expect(recordBytesOf(dayId, await entriesIn(second))).toBe(recordBytesOf(dayId, entries))
  }
})

async function entriesIn(ledger: LedgerReader): Promise<DayEntry[]> {
  const read: DayEntry[] = []
  for (const stream of [`day/${dayId}`, `after/${dayId}`]) for await (const entry of ledger.read(stream, 0)) read.push(entry as never)
  return read
}

test('from a kept day and the tail after it, wherever it was kept and however it is come by', () => {
  for (const entries of days) {
    const whole = recordBytesOf(dayId, entries)
    const scrubber = new Scrubber(dayId, entries, 1 + next(30))
    for (let tries = 0; tries < 6; tries++) {
      const kept = next(entries.length + 1)
      expect(recordBytes(entries.slice(kept).reduce(evolve, scrubber.at(kept)))).toBe(whole)
      expect(recordBytes(scrubber.at(kept))).toBe(recordBytesOf(dayId, entries.slice(0, kept)))
    }
  }
})

test('what concerns different students alone may be told in another order', () => {
  let moved = 0
  for (const entries of days) {
    const [order, swaps] = permuted(entries)
    moved += swaps
    expect(recordBytesOf(dayId, numbered(order))).toBe(recordBytesOf(dayId, entries))
  }
  expect(moved).toBeGreaterThan(1_000)
})

test('the comparison sees what is another day: one without its results', () => {
  const entries = goldenDay()
  const without = numbered(entries.filter(({ events }) => events[0]?.type !== 'resultRecorded'))
  expect(recordBytesOf(dayId, without)).not.toBe(recordBytesOf(dayId, entries))
})

/** Neighbours that share no student, swapped many times over. */
function permuted(entries: readonly DayEntry[]): [DayEntry[], number] {
  const order = [...entries]
  const owners = new Map(order.map((entry) => [entry, ownersOf(entry)]))
  let swaps = 0
  for (let tries = 0; tries < order.length * 8; tries++) {
    const at = next(order.length - 1)
    const [one, other] = [order[at]!, order[at + 1]!]
    const [its, theirs] = [owners.get(one), owners.get(other)]
    if (!its || !theirs || one.stream !== other.stream || [...its].some((studentId) => theirs.has(studentId))) continue
    order[at] = other
    order[at + 1] = one
    swaps += 1
  }
  return [order, swaps]
}

/** Whose an entry is; null: the day's, or of more than one who meet in it. */
function ownersOf(entry: DayEntry): ReadonlySet<string> | null {
  const owners = new Set<string>()
  for (const event of events(entry)) {
    if (event.type === 'corrected' && event.change.kind === 'reassign') owners.add(event.change.toStudentId)
    if (!('studentId' in event) || event.studentId === null) return null
    owners.add(event.studentId)
  }
  return owners.size > 0 ? owners : null
}

/** Each with the number of its place: a chain has no gaps. */
function numbered(entries: readonly DayEntry[]): DayEntry[] {
  const last = new Map<string, number>()
  return entries.map((entry) => {
    const version = (last.get(entry.stream) ?? 0) + 1
    last.set(entry.stream, version)
    return { ...entry, version }
  })
}
