import type { Entry, LedgerReader } from '@musterbook/ledger/ledger'
import type { DayEventOf } from '@musterbook/vocabulary/events'
import type { DayId, StudentId } from '@musterbook/vocabulary/ids'
import type { DayFacts, DayRules } from '@musterbook/vocabulary/rules'

/** What the gateway itself needs to know of a day: its facts, its rules as pinned, and whom it expects. */
export interface Roster {
  facts: DayFacts
  rules: DayRules
  studentIds: readonly StudentId[]
}

/** undefined: no such day. Each day is read once from the front and then only on. */
export type RosterOf = (dayId: string) => Promise<Roster | undefined>

export function rosters(ledger: Pick<LedgerReader, 'read'>): RosterOf {
  const known = new Map<string, { version: number; opened: DayEventOf<'dayOpened'> | null; studentIds: Set<StudentId> }>()

  return async (dayId) => {
    const day = known.get(dayId) ?? { version: 0, opened: null, studentIds: new Set<StudentId>() }
    for await (const entry of ledger.read(`day/${dayId as DayId}`, day.version)) {
      day.version = Math.max(day.version, entry.version)
      for (const event of openingEvents(entry)) {
        if (event.type === 'dayOpened') day.opened = event
        else day.studentIds.add(event.studentId)
      }
    }
    if (!day.opened) return undefined
    known.set(dayId, day)
    return { facts: day.opened.facts, rules: day.opened.rules, studentIds: [...day.studentIds] }
  }
}

const openingEvents = (entry: Entry): (DayEventOf<'dayOpened'> | DayEventOf<'studentExpected'>)[] =>
  (entry.events as unknown as DayEventOf<'dayOpened' | 'studentExpected'>[]).filter(
    ({ type }) => type === 'dayOpened' || type === 'studentExpected',
  )
