import { type Day, emptyDay } from '@musterbook/day/day'
import { evolve } from '@musterbook/day/evolve'
import { chainFault, type Link } from '@musterbook/evidence/chain'
import { hashOfText } from '@musterbook/ledger/entry-text'
import type { Entry, LedgerReader } from '@musterbook/ledger/ledger'
import { DayEvent } from '@musterbook/vocabulary/events'
import type { DayId } from '@musterbook/vocabulary/ids'

/** A day as far as it was read, and the last link of each of its two chains. */
export interface FoldedDay {
  readonly day: Day
  readonly lastInDay: Link | undefined
  readonly lastAfter: Link | undefined
}

export const unread = (dayId: string): FoldedDay => ({ day: emptyDay(dayId as DayId), lastInDay: undefined, lastAfter: undefined })

/** Entries of a day and of what came after its seal, counted as one: what a reader means by the version of a day. */
export const placeOf = ({ day }: FoldedDay): number => day.version + day.afterVersion

/** The day with its next entry. Throws where the chain has a gap or is broken, or the entry cannot be read. */
export function foldOn(before: FoldedDay, entry: Entry): FoldedDay {
  const isAfter = entry.stream.startsWith('after/')
  const fault = chainFault(isAfter ? before.lastAfter : before.lastInDay, entry, hashOfText)
  if (fault) throw new DoesNotFit(fault)
  const events = entry.events.map((event) => {
    const parsed = DayEvent.safeParse(event)
    if (!parsed.success)
      throw new DoesNotFit(`entry ${entry.version} of ${entry.stream} cannot be read: ${parsed.error.issues[0]?.message}`)
    return parsed.data
  })
  const day = evolve(before.day, { ...entry, events })
  return isAfter ? { ...before, day, lastAfter: linkOf(entry) } : { ...before, day, lastInDay: linkOf(entry) }
}

/** A day's entries from after a place on: the day itself, then what came after its seal. */
export async function* entriesFrom(ledger: LedgerReader, dayId: string, afterPlace: number): AsyncIterable<Entry> {
  const { version: inDay } = await ledger.head(`day/${dayId}`)
  if (afterPlace < inDay) yield* ledger.read(`day/${dayId}`, afterPlace)
  yield* ledger.read(`after/${dayId}`, Math.max(0, afterPlace - inDay))
}

/** A gap, a hash that does not fit, an entry that says nothing known: nothing that is built on this day may carry on. */
export class DoesNotFit extends Error {
  override name = 'DoesNotFit'
}

const linkOf = ({ stream, version, prevHash, hash }: Entry): Link => ({ stream, version, prevHash, hash })
