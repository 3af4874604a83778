import { stationOf, type Day } from '@musterbook/day/day'
import { resultOf, type StationResult } from '@musterbook/day/results'
import { recordView } from '@musterbook/day/views/record'
import { canonical } from '@musterbook/evidence/canonical'
import { fold, type Recorded } from './moments.ts'
import type { DayId, StationId, StudentId } from '@musterbook/vocabulary/ids'

/** One station's result in two days, where they differ. */
export interface Difference {
  studentId: string
  bib: string | null
  stationId: string
  station: string
  before: Placed
  after: Placed
}
export interface Placed {
  state: string
  says: string | null
  placing: string | null
  percentile: number | null
}

/** Who would move, and from where to where. */
export function differences(before: Day, after: Day): Difference[] {
  const stations = new Map(
    [before, after].flatMap((day) => day.opened?.rules.stations ?? []).map((station) => [station.stationId, station]),
  )
  const ids = [...new Set([...before.students.keys(), ...after.students.keys()])]
  return ids.flatMap((studentId) =>
    [...stations.values()].flatMap(({ stationId, protocol }): Difference[] => {
      const [was, is] = [resultIn(before, studentId, stationId), resultIn(after, studentId, stationId)]
      // What two days share, the second has not computed again.
      if (was === is || canonical(placed(was)) === canonical(placed(is))) return []
      const bib = after.students.get(studentId)?.bib ?? before.students.get(studentId)?.bib ?? null
      return [{ studentId, bib, stationId, station: protocol.name, before: placed(was), after: placed(is) }]
    }),
  )
}

/** The first entry at which two replays part, and what each has there; null when they never do. */
export function parting(one: Recorded, other: Recorded): { at: number; one: string | null; other: string | null } | null {
  const length = Math.max(one.length, other.length)
  for (let at = 0; at < length; at++) {
    const here = one[at]
    const there = other[at]
    if (here && there && canonical(here) === canonical(there)) continue
    return { at, one: here ? typesOf(here.events) : null, other: there ? typesOf(there.events) : null }
  }
  return null
}

/** The records of a day as bytes: equal bytes are equal records, on any machine. */
export const recordBytes = (day: Day): string => canonical([...day.students.keys()].map((studentId) => recordView(day, studentId)))

/** The same of entries, folded anew. */
export const recordBytesOf = (dayId: DayId, recorded: Recorded): string => recordBytes(fold(dayId, recorded))

const typesOf = (events: Recorded[number]['events']): string => events.map((event) => event.type).join(', ')

function resultIn(day: Day, studentId: StudentId, stationId: StationId): StationResult | undefined {
  const student = day.students.get(studentId)
  const station = stationOf(day, stationId)
  return student && station && resultOf(day, student, station)
}

const placed = (result: StationResult | undefined): Placed => ({
  state: result?.state ?? 'none',
  says: result?.says ?? null,
  placing: result?.placing ?? null,
  percentile: result?.percentile ?? null,
})
