import type { DayEvent } from '@musterbook/vocabulary/events'
import type { Entry } from './entries.ts'

export type MomentKind = 'holds' | 'refusals' | 'corrections' | 'seal'

const kinds: Partial<Record<DayEvent['type'], MomentKind>> = {
  holdRaised: 'holds',
  holdDisposed: 'holds',
  liftProposed: 'holds',
  holdLifted: 'holds',
  actRefused: 'refusals',
  corrected: 'corrections',
  normGroupChanged: 'corrections',
  reviewRuled: 'corrections',
  retestGranted: 'corrections',
  daySealed: 'seal',
  afterOpened: 'seal',
  reopened: 'seal',
}

export interface Moment {
  /** After so many entries. */
  position: number
  kind: MomentKind
}

/** Entries worth stopping at. */
export const momentsOf = (entries: readonly Entry[]): Moment[] =>
  entries.flatMap(({ events }, at) => {
    const kind = events.map(({ type }) => kinds[type as DayEvent['type']]).find((one) => one !== undefined)
    return kind ? [{ position: at + 1, kind }] : []
  })

/** Is this entry about that student and that station, as far as either was asked for? */
export function isAbout(entry: Entry, { studentId, stationId }: { studentId: string; stationId: string }): boolean {
  const text = (id: string) => JSON.stringify(entry.events).includes(JSON.stringify(id))
  return (studentId === '' || text(studentId)) && (stationId === '' || text(stationId))
}
