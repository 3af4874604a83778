import type { Command } from '@musterbook/vocabulary/command'
import type { ActName } from '@musterbook/vocabulary/act-table'
import type { BodyOf } from '@musterbook/vocabulary/acts'
import type { DayEvent } from '@musterbook/vocabulary/events'
import type { StationId, StudentId } from '@musterbook/vocabulary/ids'
import { refusal, type Refusal, type Rule } from '@musterbook/vocabulary/refusals'
import type { Day } from './day.ts'

/** What the day needs to know of the moment, from outside. */
export interface Now {
  /** The ledger's clock, epoch ms. */
  recordedAt: number
  /** How far this day has taken over its site's readings, and how far the site has got; unknown blocks outdoor starts. */
  siteVersionRead: number | 'unknown'
  siteHead: number | 'unknown'
}

/** May be refused. */
export type Permission = { events: readonly DayEvent[] } | { refused: Refusal }
/** Already happened: there is no way to refuse it. */
export type Observed = { events: readonly DayEvent[] }
/** A refusal is written down as well: its one event is `actRefused`. */
export type Decision = { events: readonly DayEvent[]; refused?: Refusal }

export type Asked<A extends ActName> = Command<A> & { body: BodyOf<A> }
export type Permit<A extends ActName> = (command: Asked<A>, day: Day, now: Now) => Permission
export type Observe<A extends ActName> = (command: Asked<A>, day: Day, now: Now) => Observed

export const grant = (...events: readonly DayEvent[]): Permission => ({ events })
export const observe = (...events: readonly DayEvent[]): Observed => ({ events })

export const refuse = (
  rule: Rule,
  params: Record<string, string | number> = {},
  about: { studentId?: StudentId; stationId?: StationId } = {},
): { refused: Refusal } => ({ refused: refusal(rule, params, about) })
