import type { Day } from '@musterbook/day/day'
import type { Entry, LedgerReader } from '@musterbook/ledger/ledger'
import { entriesFrom, type FoldedDay, foldOn, placeOf, unread } from './folded-day.ts'

/** Days whose folds are kept: a sheet compares two or three. */
const daysKept = 3

/** Days as far as the ledger holds them, each folded on from where it was read last. For whoever has no rows of its own. */
export class NewestDays {
  readonly #ledger: LedgerReader
  readonly #kept = new Map<string, FoldedDay>()

  constructor(ledger: LedgerReader) {
    this.#ledger = ledger
  }

  /** undefined: there is no such day. Rejects where an entry does not fit. */
  async newest(dayId: string): Promise<Day | undefined> {
    let folded = this.#kept.get(dayId) ?? unread(dayId)
    for await (const entry of entriesFrom(this.#ledger, dayId, placeOf(folded))) folded = foldOn(folded, entry)
    if (placeOf(folded) === 0) return undefined
    // The day asked for last is the last to be let go.
    this.#kept.delete(dayId)
    this.#kept.set(dayId, folded)
    const [oldest] = this.#kept.keys()
    if (this.#kept.size > daysKept && oldest !== undefined) this.#kept.delete(oldest)
    return folded.day
  }
}

/** At most so many entries of a day after a place, those behind its seal included. */
export async function entriesOf(ledger: LedgerReader, dayId: string, afterPlace: number, atMost: number): Promise<Entry[]> {
  const entries: Entry[] = []
  if (atMost <= 0) return entries
  for await (const entry of entriesFrom(ledger, dayId, afterPlace)) {
    entries.push(entry)
    if (entries.length >= atMost) break
  }
  return entries
}
