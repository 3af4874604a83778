import type { Day, Student } from '@musterbook/day/day'
import { stationOf, zoneOf } from '@musterbook/day/day'
import type { DayEvent, DayEventOf } from '@musterbook/vocabulary/events'
import type { StationId, StudentId, ZoneId } from '@musterbook/vocabulary/ids'
import { shown, type House } from '../house/house.ts'
import type { Named, Telling } from '../words/en/sentences.ts'
import { raceTime, wallClock } from '../words/figures.ts'
import { apart } from '../words/standing-apart.ts'
import type { Entry } from './entries.ts'
import { valueSays } from './value-says.ts'
import { staffName } from './who.ts'

/** What an entry says, one plain sentence an event. `day`: after the entry, so that what it brought has its name. */
export const sentencesOf = (entry: Entry, day: Day, house: House, devices: ReadonlyMap<string, string>, telling: Telling): string[] =>
  (entry.events as readonly DayEvent[]).map((event) => sentence(event, namedIn(day, house, devices, telling), telling))

function sentence<T extends DayEvent['type']>(event: DayEventOf<T>, named: Named, { sentences }: Telling): string {
  const say = sentences[event.type as T] as ((event: DayEventOf<T>, named: Named) => string) | undefined
  // A newer site may tell of what this screen does not know: it is named, not swallowed.
  return say ? say(event, named) : event.type
}

function namedIn(day: Day, house: House, devices: ReadonlyMap<string, string>, say: Telling): Named {
  const zone = day.opened?.facts.timeZone ?? 'UTC'
  const student = (studentId: string) => studentName(house, day.students.get(studentId as StudentId), studentId)
  const station = (stationId: string | null) => apart(stationOf(day, (stationId ?? '') as StationId)?.protocol.name ?? stationId ?? '')
  const zoneName = (zoneId: string | null) => (zoneId === null ? say.everywhere : apart(zoneOf(day, zoneId as ZoneId)?.name ?? zoneId))
  return {
    student,
    person: (personId) => (personId === null ? say.nobody : apart(staffName(house, personId))),
    device: (deviceId) => apart(devices.get(deviceId) ?? deviceId),
    station,
    zone: zoneName,
    hold: (holdId) => {
      const hold = day.holds.get(holdId as never)
      return hold ? say.theHold(hold.kind, zoneName(hold.zoneId)) : say.aHold
    },
    attempt: (studentId, attemptId) => {
      const attempt = day.students.get(studentId as StudentId)?.attempts.find((one) => one.attemptId === attemptId)
      return attempt ? say.aTry(attempt.official ? attempt.number : 0, station(attempt.stationId)) : ''
    },
    review: (reviewId) => {
      const review = day.reviews.get(reviewId as never)
      return review ? say.because(review.because) : say.aReview
    },
    because: say.because,
    value: valueSays,
    clock: (instant) => wallClock(instant, zone, true),
    duration: (milliseconds) => raceTime(Math.max(0, Math.floor(milliseconds / 10)), 1),
    refusal: say.refusal,
  }
}

function studentName(house: House, student: Student | undefined, studentId: string): string {
  const name = apart(shown(house, studentId, student?.bib ?? null).name)
  return student?.bib && !name.startsWith('#') ? `#${student.bib} ${name}` : name
}
