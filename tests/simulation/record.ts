import { emptyDay, type Day } from '@musterbook/day/day'
import type { evolve } from '@musterbook/day/evolve'
import type { Entry } from '@musterbook/ledger/ledger'
import type { Command } from '@musterbook/vocabulary/command'
import type { Role } from '@musterbook/vocabulary/people'
import { entryFacts, Facts } from './facts.ts'
import { judge, type Broken } from './promises.ts'

/** Everything that was ever appended, as it was when it was appended, and the day after each entry of it. */
export class DayRecord {
  readonly entries: Entry[] = []
  readonly appendedAt: number[] = []
  readonly site: Entry[] = []
  readonly made = new Map<string, Entry>()
  readonly facts = new Facts()
  readonly broken: Broken[] = []
  readonly #days: Day[]
  #forgotten = 0
  readonly #told = new Map<string, { command: Command; siteHead: number }>()
  readonly #roles: (personId: string | null) => readonly Role[]

  readonly #fold: typeof evolve

  constructor(dayId: string, roles: (personId: string | null) => readonly Role[], fold: typeof evolve) {
    this.#days = [emptyDay(dayId as never)]
    this.#roles = roles
    this.#fold = fold
  }

  get day(): Day {
    return this.#days.at(-1)!
  }

  /** The day after so many entries. */
  dayAt(place: number): Day {
    return this.#days[place - this.#forgotten]!
  }

  /** No screen shows a day any more that is older than this one. */
  forget(place: number): void {
    this.#days.splice(0, place - this.#forgotten)
    this.#forgotten = place
  }

  /** A server hears a command: from here on its decision must have read what the site holds. */
  told(command: Command): void {
    const { commandId } = command.envelope
    if (!this.#told.has(commandId)) this.#told.set(commandId, { command, siteHead: this.site.length })
  }

  appended(entry: Entry, at: number): void {
    this.made.set(entry.meta.commandId, entry)
    if (entry.stream.startsWith('site/')) return void this.site.push(entry)
    const told = this.#told.get(entry.meta.commandId)
    const isAfter = entry.stream.startsWith('after/')
    const expected = (isAfter ? this.facts.afterVersion : this.facts.dayVersion) + 1
    if (entry.version !== expected) {
      return void this.broken.push({ promise: 'S7', says: `entry ${entry.version} of ${entry.stream} stands where ${expected} belongs` })
    }
    const before = this.day
    const after = this.#fold(before, entry as never)
    this.entries.push(entry)
    this.appendedAt.push(at)
    this.#days.push(after)
    const roles = told?.command.by.roles ?? []
    const step = { ...entryFacts(entry, told?.command), facts: this.facts, siteHeadWhenTold: told?.siteHead ?? 0 }
    this.broken.push(...judge({ ...step, roles, rolesOf: this.#roles, before, after }))
  }
}
