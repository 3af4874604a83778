import { genesis } from '@musterbook/evidence/chain'
import { emptyDay, type Day } from '@musterbook/day/day'
import { evolve } from '@musterbook/day/evolve'
import { BrokenChain } from '@musterbook/ledger/entry-text'
import type { Entry, LedgerReader, StreamName } from '@musterbook/ledger/ledger'
import { DayEvent } from '@musterbook/vocabulary/events'
import type { DayId, SiteId } from '@musterbook/vocabulary/ids'

/** One day as this process knows it: folded from the ledger, and folded on with each entry that joins it. */
export class DayFile {
  day: Day
  /** The ledger has closed the stream behind the seal. */
  closed = false
  readonly dayId: DayId
  readonly #ledger: LedgerReader
  readonly #fold: typeof evolve
  /** Which stream holds the entry of a command that was heard. */
  readonly #heard = new Map<string, StreamName>()
  #hash = genesis
  #sealedHash = genesis

  constructor(dayId: DayId, ledger: LedgerReader, fold = evolve) {
    this.dayId = dayId
    this.#ledger = ledger
    this.#fold = fold
    this.day = emptyDay(dayId)
  }

  get siteId(): SiteId | undefined {
    return this.day.opened?.facts.siteId
  }

  get isOpen(): boolean {
    return this.day.opened !== null && this.day.sealed === null
  }

  /** Where the next entry goes: behind the seal once there is one. */
  get next(): { stream: StreamName; version: number } {
    return this.day.sealed
      ? { stream: `after/${this.dayId}`, version: this.day.afterVersion }
      : { stream: `day/${this.dayId}`, version: this.day.version }
  }

  /** What the first entry behind the seal must carry. */
  get seal(): { sealedVersion: number; sealedHash: string } {
    return { sealedVersion: this.day.version, sealedHash: this.#sealedHash }
  }

  /** The entry that this command made, told by whomever. */
  async heard(commandId: string): Promise<Entry | undefined> {
    const stream = this.#heard.get(commandId)
    return stream === undefined ? undefined : this.#ledger.find(stream, commandId)
  }

  /** Folds what stands in the ledger and is not folded yet. Throws when an entry cannot be read: then nothing is decided on this day. */
  async readOn(): Promise<void> {
    try {
      for await (const entry of this.#ledger.read(`day/${this.dayId}`, this.day.version)) this.take(entry)
      if (!this.day.sealed) return
      for await (const entry of this.#ledger.read(`after/${this.dayId}`, this.day.afterVersion)) this.take(entry)
    } catch (error) {
      // Telling it again would not mend it, so nobody is asked to.
      throw error instanceof BrokenChain ? new UnreadableDay(error.message, { cause: error }) : error
    }
  }

  /** Folds the next entry; one that is folded already changes nothing. What this process has just parsed and entered is trusted. */
  take(entry: Entry, events: 'asRead' | 'justParsed' = 'asRead'): void {
    const isAfter = entry.stream.startsWith('after/')
    const version = isAfter ? this.day.afterVersion : this.day.version
    if (entry.version <= version) return
    const name = `entry ${entry.version} of ${entry.stream}`
    if (entry.version !== version + 1) throw new UnreadableDay(`${name} stands where entry ${version + 1} belongs`)
    if (version > 0 && entry.prevHash !== this.#hash) throw new UnreadableDay(`${name} does not name the hash of the entry before it`)

    this.day = this.#fold(
      this.day,
      events === 'justParsed' ? entry : { ...entry, events: entry.events.map((event) => readEvent(event, name)) },
    )
    this.#hash = entry.hash
    if (!isAfter) this.#sealedHash = entry.hash
    this.#heard.set(entry.meta.commandId, entry.stream)
  }
}

/** What the ledger holds of this day does not make sense: it takes no command until somebody has looked. Other days go on. */
export class UnreadableDay extends Error {
  override name = 'UnreadableDay'
}

function readEvent(event: unknown, name: string): DayEvent {
  const parsed = DayEvent.safeParse(event)
  if (!parsed.success) throw new UnreadableDay(`${name} cannot be read: ${parsed.error.issues[0]?.message}`)
  return parsed.data
}
