import { emptyDay, type Day } from '@musterbook/day/day'
import { evolve, type DayEntry } from '@musterbook/day/evolve'
import { happenedAt } from '@musterbook/vocabulary/envelope'
import type { DayEvent } from '@musterbook/vocabulary/events'
import type { DayId } from '@musterbook/vocabulary/ids'

/** A day's entries in the order of the record: the day's own, then those after its seal. */
export type Recorded = readonly DayEntry[]

/** Where a replay stands. `recorded`: the ledger's clock; `occurred`: the devices' clocks, corrected. */
export type Moment = { entries: number } | { by: 'recorded' | 'occurred'; at: number }

/** What was known at that moment: nothing that was told later, whatever it was about. */
export function asKnown(dayId: DayId, recorded: Recorded, moment: Moment): Day {
  return fold(dayId, upTo(recorded, moment))
}

/**
 * What had happened by that moment as the record has it now: what was told late is in, and so are the judgements made since
 * over what had happened by then.
 */
export function asCorrected(dayId: DayId, recorded: Recorded, at: number): Day {
  const before = recorded.filter((entry) => happenedAt(entry.meta) <= at)
  const attempts = new Set(
    before.flatMap((entry) =>
      events(entry).flatMap((event) => ('attemptId' in event && typeof event.attemptId === 'string' ? [event.attemptId] : [])),
    ),
  )
  const reviews = new Set(
    before.flatMap((entry) => events(entry).flatMap((event) => (event.type === 'reviewOpened' ? [event.reviewId] : []))),
  )
  const isOver = (event: DayEvent): boolean =>
    (event.type === 'corrected' && attempts.has(event.attemptId)) ||
    (event.type === 'differenceAcknowledged' && attempts.has(event.attemptId)) ||
    (event.type === 'lapInferred' &&
      before.some((entry) => events(entry).some((one) => one.type === 'waveStarted' && one.waveId === event.waveId))) ||
    ((event.type === 'reviewRuled' || event.type === 'reviewSettled') && reviews.has(event.reviewId)) ||
    event.type === 'normGroupChanged'
  return fold(
    dayId,
    recorded.filter((entry) => happenedAt(entry.meta) <= at || events(entry).some(isOver)),
  )
}

/** The entries that stand up to a moment, in the order of the record. */
export function upTo(recorded: Recorded, moment: Moment): Recorded {
  if ('entries' in moment) return recorded.slice(0, Math.max(0, moment.entries))
  if (moment.by === 'recorded') return recorded.filter((entry) => entry.recordedAt <= moment.at)
  return recorded.filter((entry) => happenedAt(entry.meta) <= moment.at)
}

export const fold = (dayId: DayId, recorded: Recorded): Day => recorded.reduce(evolve, emptyDay(dayId))

/** Parsed on the way out of the ledger, trusted here. */
export const events = (entry: DayEntry): readonly DayEvent[] => entry.events as readonly DayEvent[]

/** Entries whose instants overlap with this one's by their bands: their order is not certain. */
export function notOrdered(recorded: Recorded, index: number): number[] {
  const one = recorded[index]
  if (!one) return []
  return recorded.flatMap((other, place) => {
    const apart = Math.abs(happenedAt(one.meta) - happenedAt(other.meta))
    return place !== index && other.meta.deviceId !== one.meta.deviceId && apart <= one.meta.bandMs + other.meta.bandMs ? [place] : []
  })
}

/**
 * Keeps a day at every so many entries, so that a step back reads a few and not all. A cache: thrown away, it changes nothing.
 */
export class Scrubber {
  private readonly dayId: DayId
  private readonly recorded: Recorded
  private readonly every: number
  private readonly kept = new Map<number, Day>()

  constructor(dayId: DayId, recorded: Recorded, every = 100) {
    this.dayId = dayId
    this.recorded = recorded
    this.every = every
  }

  /** What had happened by an instant, in the order of the record: as `asKnown` by `occurred`, from the nearest kept day. */
  happenedBy(at: number): Day {
    const isLater = (entry: DayEntry) => happenedAt(entry.meta) > at
    const first = this.recorded.findIndex(isLater)
    if (first < 0) return this.at(this.recorded.length)
    return this.recorded
      .slice(first)
      .filter((entry) => !isLater(entry))
      .reduce(evolve, this.at(first))
  }

  at(entries: number): Day {
    const wanted = Math.min(Math.max(0, entries), this.recorded.length)
    const from = Math.floor(wanted / this.every) * this.every
    let day = this.kept.get(from)
    if (!day) {
      const before = from === 0 ? emptyDay(this.dayId) : this.at(from - this.every)
      day = this.recorded.slice(Math.max(0, from - this.every), from).reduce(evolve, before)
      this.kept.set(from, day)
    }
    return this.recorded.slice(from, wanted).reduce(evolve, day)
  }
}
