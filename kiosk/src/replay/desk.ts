import type { Day } from '@musterbook/day/day'
import { Scrubber } from '@musterbook/replay/moments'
import { happenedAt } from '@musterbook/vocabulary/envelope'
import type { DayId } from '@musterbook/vocabulary/ids'
import type { House } from '../house/house.ts'
import type { Entry } from '../supervisor/entries.ts'
import { sentencesOf } from '../supervisor/sentences.ts'
import type { Telling } from '../words/en/sentences.ts'

export type ByClock = 'recorded' | 'occurred'

/** One day on the desk: its entries, read once, and every moment of them. */
export interface Desk {
  house: House
  dayId: DayId
  zone: string
  entries: readonly Entry[]
  devices: ReadonlyMap<string, string>
  /** The day after the last entry: with every correction. */
  now: Day
  /** After so many entries, in the order of the chosen clock. */
  at(position: number, clock: ByClock): Day
  /** What had happened by an instant, as the record has it now. */
  corrected(at: number): Day
  /** Which entry a position of a clock stands after; its place in the record. */
  placeOf(position: number, clock: ByClock): number | undefined
  timeOf(entry: Entry, clock: ByClock): number
  /** What the entry at this place of the record says, in one line. */
  says(place: number): string
  /** Position, by a clock, of an entry of the record. */
  positionOf(place: number, clock: ByClock): number
}

type DeskUntold = Omit<Desk, 'says'>

export function deskOf(house: House, dayId: DayId, entries: readonly Entry[], devices: ReadonlyMap<string, string>): DeskUntold {
  const scrubber = new Scrubber(dayId, entries, 32)
  const now = scrubber.at(entries.length)
  const happened = entries.map((entry, place) => ({ place, at: happenedAt(entry.meta) }))
  // What happened in the same instant stays in the order of the record.
  const asHappened = [...happened].sort((one, other) => one.at - other.at || one.place - other.place).map(({ place }) => place)
  const positions = new Map(asHappened.map((place, index) => [place, index + 1]))
  const placeOf: Desk['placeOf'] = (position, clock) => (clock === 'recorded' ? position - 1 : asHappened[position - 1])
  return {
    house,
    dayId,
    zone: house.day.value?.timeZone ?? 'UTC',
    entries,
    devices,
    now,
    at: (position, clock) => {
      if (clock === 'recorded') return scrubber.at(position)
      const place = placeOf(position, clock)
      return place === undefined ? scrubber.at(0) : scrubber.happenedBy(happened[place]!.at)
    },
    corrected: (at) => scrubber.corrected(at),
    placeOf,
    timeOf: (entry, clock) => (clock === 'recorded' ? entry.recordedAt : happenedAt(entry.meta)),
    positionOf: (place, clock) => (clock === 'recorded' ? place + 1 : (positions.get(place) ?? 0)),
  }
}

/** The desk in the reader's language. Nothing is folded again. */
export function toldIn(desk: DeskUntold, telling: Telling): Desk {
  const said = new Map<number, string>()
  return {
    ...desk,
    says: (place) => {
      const entry = desk.entries[place]
      if (!entry) return ''
      const known = said.get(place)
      if (known !== undefined) return known
      // Whoever and whatever it names is named as the whole day knows them: a bib given later names its wearer sooner too.
      const says = sentencesOf(entry, desk.now, desk.house, desk.devices, telling).join(' ')
      said.set(place, says)
      return says
    },
  }
}

/** Where an entry stands in the record, by its stream and version. */
export const placeIn = (entries: readonly Entry[], { stream, version }: { stream: string; version: number }): number =>
  entries.findIndex((entry) => entry.stream === stream && entry.version === version)
