import type { Day } from '@musterbook/day/day'
import type { Entry, LedgerReader } from '@musterbook/ledger/ledger'
import { entriesFrom, type FoldedDay, foldOn, placeOf, unread } from './folded-day.ts'

/** Folded days kept on the way, so that a step costs at most so many entries. */
const stepsBetween = 250
/** Days whose folds are kept: a supervisor looks back at one or two at a time. */
const daysKept = 3

/** A day as it stood at any place, folded from the ledger alone. */
export class StepBack {
  readonly #ledger: LedgerReader
  readonly #kept = new Map<string, Map<number, FoldedDay>>()

  constructor(ledger: LedgerReader) {
    this.#ledger = ledger
  }

  /** undefined: the day has not come so far. */
  async dayAt(dayId: string, place: number): Promise<Day | undefined> {
    const kept = this.#keptOf(dayId)
    const nearest = [...kept.keys()].filter((each) => each <= place).reduce((best, each) => Math.max(best, each), 0)
    let folded = kept.get(nearest) ?? unread(dayId)
    if (placeOf(folded) === place) return folded.day
    for await (const entry of entriesFrom(this.#ledger, dayId, placeOf(folded))) {
      folded = foldOn(folded, entry)
      if (placeOf(folded) % stepsBetween === 0) kept.set(placeOf(folded), folded)
      if (placeOf(folded) === place) return folded.day
    }
    return undefined
  }

  async entriesOf(dayId: string, afterPlace: number, atMost: number): Promise<Entry[]> {
    const entries: Entry[] = []
    if (atMost <= 0) return entries
    for await (const entry of entriesFrom(this.#ledger, dayId, afterPlace)) {
      entries.push(entry)
      if (entries.length >= atMost) break
    }
    return entries
  }

  /** The day asked for last is the last to be let go. */
  #keptOf(dayId: string): Map<number, FoldedDay> {
    const kept = this.#kept.get(dayId) ?? new Map<number, FoldedDay>()
    this.#kept.delete(dayId)
    this.#kept.set(dayId, kept)
    const [oldest] = this.#kept.keys()
    if (this.#kept.size > daysKept && oldest !== undefined) this.#kept.delete(oldest)
    return kept
  }
}
