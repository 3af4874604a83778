import { emptyDay, type Day } from '@musterbook/day/day'
import { evolve, type DayEntry } from '@musterbook/day/evolve'
import type { DayId } from '@musterbook/vocabulary/ids'
import type { House } from '../house/house.ts'

export type Entry = DayEntry & { hash: string }

/** A picture of the day is kept at every so many entries: any moment is that few entries from one. */
const every = 32

/** A day that can be stood at after any of its entries. */
export interface Tape {
  entries: readonly Entry[]
  /** After the first `position` entries. */
  at(position: number): Day
}

export function tapeOf(dayId: string, entries: readonly Entry[]): Tape {
  const kept: Day[] = [emptyDay(dayId as DayId)]
  let last = { position: 0, day: kept[0]! }
  const from = (start: { position: number; day: Day }, position: number): Day => {
    let { day } = start
    for (let at = start.position; at < position; at++) {
      day = evolve(day, entries[at]!)
      if ((at + 1) % every === 0) kept[(at + 1) / every] ??= day
    }
    return day
  }
  return {
    entries,
    at(position) {
      const page = Math.min(Math.floor(position / every), kept.length - 1)
      const near = last.position <= position && last.position >= page * every ? last : { position: page * every, day: kept[page]! }
      last = { position, day: from(near, position) }
      return last.day
    },
  }
}

/** Every entry after `position`, those behind the seal included. */
export async function readEntries(house: House, dayId: string, after: number, onPage: (so: number) => void): Promise<Entry[] | null> {
  const read: Entry[] = []
  for (;;) {
    const heard = await house.api.get<{ entries: Entry[] }>(`/api/days/${encodeURIComponent(dayId)}/entries?after=${after + read.length}`)
    if (heard.said !== 'recorded') return null
    if (heard.body.entries.length === 0) return read
    read.push(...heard.body.entries)
    onPage(after + read.length)
  }
}
