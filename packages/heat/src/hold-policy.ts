import { isFrom } from './classify.ts'
import type { HeatPolicy } from './policies.ts'
import { checkReading } from './reading-checks.ts'
import type { ReadingFigures } from './reading-figures.ts'
import type { HeatReading } from './reading.ts'
import { type Wbgt, wbgtOf } from './wbgt.ts'

const minuteMs = 60_000

/** What a reading asks for. `unknown`: its WBGT cannot be had or cannot be true; it neither raises nor counts as fresh. */
export type Call = { readonly calls: 'hold' | 'nothing'; readonly wbgt: Wbgt } | { readonly calls: 'unknown' }

/**
 * Does this reading call for a heat hold? One reading is enough, an estimate, a doubtful or an unsettled one as well:
 * raising errs to the strict side, lifting does not.
 */
export function callsForHold(reading: HeatReading, policy: HeatPolicy): Call {
  const wbgt = wbgtOf(reading, policy.unit)
  if (!wbgt || checkReading(reading).outcome === 'unusable') return { calls: 'unknown' }
  return { calls: isFrom(wbgt.tenths, policy.raise) ? 'hold' : 'nothing', wbgt }
}

/** A heat hold in force, as far as lifting it asks. */
export interface HeatHold {
  /** Epoch milliseconds, best estimate in ledger time. */
  readonly raisedAt: number
  /** How far that may be off; where order is not certain, the reading counts as the earlier of the two. */
  readonly bandMs?: number
}

export type LiftRefusal =
  | 'latchedForSession'
  | 'otherUnit'
  | 'readingUnusable'
  | 'readingInFuture'
  | 'readingOlderThanHold'
  | 'readingTooOld'
  | 'estimateCannotLift'
  | 'derivedWetBulbCannotLift'
  | 'instrumentNotSettled'
  | 'notBelowLiftThreshold'
  | 'dwellNotOver'
  | 'laterReadingNotBelow'
  | 'moreReadingsNeeded'

export interface LiftQuestion {
  /** The reading that is offered as evidence. */
  readonly reading: ReadingFigures
  /** Every reading known for that place, in any order; the offered one may be among them. */
  readonly others?: readonly ReadingFigures[]
  readonly hold: HeatHold
  readonly policy: HeatPolicy
  /** Epoch milliseconds. */
  readonly nowMs: number
}

/**
 * May this reading be the evidence on which a heat hold is lifted? It never lifts one: two people do. The gravest reason
 * to say no comes first. A derived wet bulb serves only where the policy says so, an estimate never; and no reading
 * serves that a later one contradicts.
 */
export function mayLift(question: LiftQuestion): { granted: true } | { refused: LiftRefusal } {
  const { reading, others = [], hold, policy, nowMs } = question
  const alone = refusalOf(reading, question)
  if (alone) return { refused: alone }

  const since = others.filter((other) => other.readingId !== reading.readingId && other.readAt >= hold.raisedAt && other.readAt <= nowMs)
  const contradicted = since.some(
    (other) => other.readAt >= reading.readAt && other.wbgtTenths !== null && !isBelowLift(other.wbgtTenths, policy),
  )
  if (contradicted) return { refused: 'laterReadingNotBelow' }
  if (inARow(question, since) < policy.settledReadingsToLift) return { refused: 'moreReadingsNeeded' }
  return { granted: true }
}

function refusalOf(reading: ReadingFigures, { hold, policy, nowMs }: LiftQuestion): LiftRefusal | undefined {
  const earliest = reading.readAt - reading.bandMs
  const raised = hold.raisedAt + (hold.bandMs ?? 0)
  if (policy.latched) return 'latchedForSession'
  if (reading.unit !== policy.unit) return 'otherUnit'
  if (reading.wbgtTenths === null) return 'readingUnusable'
  if (earliest > nowMs) return 'readingInFuture'
  if (earliest < raised) return 'readingOlderThanHold'
  if (isOverdue(reading, policy, nowMs)) return 'readingTooOld'
  if (reading.method === 'estimate') return 'estimateCannotLift'
  if (reading.wetBulbKind !== 'natural' && !policy.derivedWetBulbMayLift) return 'derivedWetBulbCannotLift'
  if (!reading.settled) return 'instrumentNotSettled'
  if (!reading.usable) return 'readingUnusable'
  if (!isBelowLift(reading.wbgtTenths, policy)) return 'notBelowLiftThreshold'
  if (earliest < raised + policy.dwellMinutes * minuteMs) return 'dwellNotOver'
  return undefined
}

/** Counts back from the offered reading over those that could serve by themselves, until one could not. */
function inARow(question: LiftQuestion, since: readonly ReadingFigures[]): number {
  const earlier = since.filter((other) => other.readAt < question.reading.readAt).sort((one, other) => other.readAt - one.readAt)
  const broken = earlier.findIndex((other) => refusalOf(other, question) !== undefined)
  return 1 + (broken < 0 ? earlier.length : broken)
}

const isBelowLift = (tenths: number, { lift }: HeatPolicy) => tenths < lift.tenths || (lift.included && tenths === lift.tenths)

const isOverdue = (reading: ReadingFigures, policy: HeatPolicy, nowMs: number) =>
  nowMs - reading.readAt > policy.readingAgeMinutes * minuteMs

/** How old the newest reading that counts is, and whether outdoor starts may rest on it. `none` blocks as `overdue` does. */
export type ReadingAge<Reading extends ReadingFigures = ReadingFigures> =
  { readonly state: 'notNeeded' | 'none' } | { readonly state: 'fresh' | 'overdue'; readonly reading: Reading; readonly ageMs: number }

/**
 * The age of the newest reading that counts. An estimate, one of an instrument that has not settled (a globe that still
 * warms reads low), one that lies in the future, is impossible or waits for a second look does not; exactly as old as
 * the policy allows, it still does.
 */
export function readingAge<Reading extends ReadingFigures>(
  readings: readonly Reading[],
  policy: HeatPolicy,
  nowMs: number,
): ReadingAge<Reading> {
  if (!policy.readingsNeeded) return { state: 'notNeeded' }
  const counts = (one: Reading) =>
    one.usable && one.settled && one.wbgtTenths !== null && one.method !== 'estimate' && one.readAt - one.bandMs <= nowMs
  const [newest] = readings.filter(counts).sort((one, other) => other.readAt - one.readAt)
  if (!newest) return { state: 'none' }
  return { state: isOverdue(newest, policy, nowMs) ? 'overdue' : 'fresh', reading: newest, ageMs: nowMs - newest.readAt }
}

/** Is a device that last heard the ledger then too long out of contact to start anything outdoors? */
export const contactIsTooOld = (lastHeardMs: number, policy: HeatPolicy, nowMs: number) =>
  nowMs - lastHeardMs > policy.contactAgeMinutes * minuteMs
