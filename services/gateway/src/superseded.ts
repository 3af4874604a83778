import { emptyDay, type Day } from '@musterbook/day/day'
import { evolve, type DayEntry } from '@musterbook/day/evolve'
import { resultOf } from '@musterbook/day/results'
import { events } from '@musterbook/replay/moments'
import type { DayEvent } from '@musterbook/vocabulary/events'
import type { DayId, StationId, StudentId } from '@musterbook/vocabulary/ids'

/** A result that stood and stands no more: kept, with its basis and with what replaced it. */
export interface Superseded {
  stationId: StationId
  says: string
  placing: string
  group: string | null
  table: string | null
  /** The kind of the event that replaced it, whose it was, and who agreed. */
  by: 'corrected' | 'normGroupChanged' | 'reviewRuled'
  at: number
  personId: string | null
  countersigned: string | null
}

const replacing = ['corrected', 'normGroupChanged', 'reviewRuled'] as const
type Replacing = Extract<DayEvent, { type: (typeof replacing)[number] }>
const replaces = (event: DayEvent): event is Replacing => (replacing as readonly string[]).includes(event.type)

/** Every result of one student that a judgement replaced, oldest first: the day is folded once and looked at before and after each. */
export function supersededResults(dayId: DayId, recorded: readonly DayEntry[], studentId: StudentId): Superseded[] {
  const found: Superseded[] = []
  let day = emptyDay(dayId)
  for (const entry of recorded) {
    const event = events(entry).find(replaces)
    const before = event && standing(day, studentId)
    day = evolve(day, entry)
    if (!event || !before) continue
    const after = standing(day, studentId)
    for (const [stationId, was] of before) {
      const is = after.get(stationId)
      if (was.says === null || (was.says === is?.says && was.placing === is.placing && was.group === is.group)) continue
      found.push({
        stationId,
        says: was.says,
        placing: was.placing ?? 'no norm',
        group: was.group,
        table: was.table,
        by: event.type,
        at: entry.recordedAt,
        personId: entry.meta.personId,
        countersigned: 'countersigned' in event ? (event.countersigned?.personId ?? null) : null,
      })
    }
  }
  return found
}

function standing(day: Day, studentId: StudentId) {
  const student = day.students.get(studentId)
  return new Map(student ? (day.opened?.rules.stations ?? []).map((one) => [one.stationId, resultOf(day, student, one)] as const) : [])
}
