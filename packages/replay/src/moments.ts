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
export const asCorrected = (dayId: DayId, recorded: Recorded, at: number): Day => fold(dayId, recorded.filter(isInCorrected(recorded, at)))

function isInCorrected(recorded: Recorded, at: number): (entry: DayEntry) => boolean {
  const had = recorded.filter((entry) => happenedAt(entry.meta) <= at).flatMap(events)
  const attempts = new Set(had.flatMap((event) => ('attemptId' in event && typeof event.attemptId === 'string' ? [event.attemptId] : [])))
  const reviews = new Set(had.flatMap((event) => (event.type === 'reviewOpened' ? [event.reviewId] : [])))
  const waves = new Set(had.flatMap((event) => (event.type === 'waveStarted' ? [event.waveId] : [])))
  const isOver = (event: DayEvent): boolean =>
    (event.type === 'corrected' && attempts.has(event.attemptId)) ||
    (event.type === 'differenceAcknowledged' && attempts.has(event.attemptId)) ||
    (event.type === 'lapInferred' && waves.has(event.waveId)) ||
    ((event.type === 'reviewRuled' || event.type === 'reviewSettled') && reviews.has(event.reviewId)) ||
    event.type === 'normGroupChanged'
  return (entry) => happenedAt(entry.meta) <= at || events(entry).some(isOver)
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
  const at = happenedAt(one.meta)
  return recorded.flatMap((other, place) => {
    const apart = Math.abs(at - happenedAt(other.meta))
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
  private last: { entries: number; day: Day } | undefined

  constructor(dayId: DayId, recorded: Recorded, every = 100) {
    this.dayId = dayId
    this.recorded = recorded
    this.every = every
  }

  /** What had happened by an instant, in the order of the record: as `asKnown` by `occurred`, from the nearest kept day. */
  happenedBy(at: number): Day {
    return this.those((entry) => happenedAt(entry.meta) <= at)
  }

  /** As `asCorrected`, from the nearest kept day. */
  corrected(at: number): Day {
    return this.those(isInCorrected(this.recorded, at))
  }

  private those(isIn: (entry: DayEntry) => boolean): Day {
    const first = this.recorded.findIndex((entry) => !isIn(entry))
    if (first < 0) return this.at(this.recorded.length)
    return this.recorded.slice(first).filter(isIn).reduce(evolve, this.at(first))
  }

  at(entries: number): Day {
    const wanted = Math.min(Math.max(0, entries), this.recorded.length)
    const from = this.nearest(wanted)
    const day = this.recorded.slice(from.entries, wanted).reduce(evolve, from.day)
    this.last = { entries: wanted, day }
    return day
  }

  /** One step on is one entry; anywhere else it is a kept day and the few after it. */
  private nearest(wanted: number): { entries: number; day: Day } {
    const entries = Math.floor(wanted / this.every) * this.every
    if (this.last && this.last.entries <= wanted && this.last.entries >= entries) return this.last
    for (let at = 0, day = emptyDay(this.dayId); at <= entries; at += this.every) {
      day = this.kept.get(at) ?? this.recorded.slice(Math.max(0, at - this.every), at).reduce(evolve, day)
      this.kept.set(at, day)
    }
    return { entries, day: this.kept.get(entries)! }
  }
}
