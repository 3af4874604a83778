import { airCallsForHold } from '@musterbook/heat/air'
import { coldCallsForHold } from '@musterbook/heat/cold'
import { mayLift } from '@musterbook/heat/hold-policy'
import type { HeatPolicy } from '@musterbook/heat/policies'
import { happenedAt } from '@musterbook/vocabulary/envelope'
import type { DayEvent } from '@musterbook/vocabulary/events'
import type { EntitlementId, ZoneId } from '@musterbook/vocabulary/ids'
import { addDays } from '../calendar.ts'
import { attemptsUnderWay, shape, stationOf, zoneOf, type Day, type Hold, type Student } from '../day.ts'
import { grant, observe, refuse, type Asked, type Now, type Observed, type Permission } from '../decision.ts'
import { underWayIn } from './raise-hold.ts'

export const acknowledgeHold = ({ body, by }: Asked<'acknowledgeHold'>): Observed =>
  observe({ type: 'holdAcknowledged', ...body, deviceId: by.deviceId })

export const noteHeardByRadio = ({ body }: Asked<'noteHeardByRadio'>): Observed => observe({ type: 'holdHeardByRadio', ...body })

/**
 * What becomes of those who were under way: each gets a recorded outcome. Stopping is the default: no score, no used try,
 * a retest entitlement. Who is let finish stays under review.
 */
export function disposeHold({ body, envelope }: Asked<'disposeHold'>, day: Day): Permission {
  const hold = day.holds.get(body.holdId)
  if (!hold || hold.lifted) return refuse('noSuchHold')
  const still = outcomeDue(day, hold)
  const disposed: DayEvent = {
    type: 'holdDisposed',
    holdId: body.holdId,
    disposition: body.disposition,
    studentIds: still.map((one) => one.studentId),
  }
  if (body.disposition === 'finishTheRun') return grant(disposed)
  return grant(
    disposed,
    ...still.flatMap((one, index): DayEvent[] => [
      {
        type: 'attemptInterrupted',
        attemptId: one.attemptId,
        studentId: one.studentId,
        stationId: one.stationId,
        by: 'hold',
        holdId: body.holdId,
      },
      {
        type: 'retestGranted',
        entitlementId: `${envelope.commandId}.e${index + 1}` as EntitlementId,
        studentId: one.studentId,
        stationIds: [one.stationId],
        until: addDays(day.opened?.facts.date ?? '1970-01-01', day.opened?.rules.retestDays ?? 0),
        because: 'hold',
        reason: null,
        attemptId: one.attemptId,
      },
      ...settlesOrder(day, one.attemptId),
    ]),
  )
}

/** Those it listed, and any who started under it out of contact, who are under way still. */
export function stillUnderWay(day: Day, hold: Hold) {
  return underWayIn(day, hold.zoneId, hold.raised)
}

/** Of those, everyone for whom nothing has been chosen yet: who was let finish has an outcome. */
export function outcomeDue(day: Day, hold: Hold) {
  const letFinish = hold.disposed?.disposition === 'finishTheRun' ? hold.disposed.studentIds : []
  return stillUnderWay(day, hold).filter((one) => !letFinish.includes(one.studentId))
}

function settlesOrder(day: Day, attemptId: string): DayEvent[] {
  return [...day.reviews.values()]
    .filter(
      (review) =>
        !review.ruled &&
        review.about.attemptId === attemptId &&
        (review.because === 'orderNotCertain' || review.because === 'ranUnderHold'),
    )
    .map((review) => ({ type: 'reviewSettled', reviewId: review.reviewId, by: 'holdDisposed' }))
}

export const observeHazard = ({ body }: Asked<'observeHazard'>): Observed => observe({ type: 'hazardObserved', ...body })

/** S4: the safety officer proposes, with the evidence that the kind of hold names. */
export function proposeLift({ body, by }: Asked<'proposeLift'>, day: Day, now: Now): Permission {
  const hold = day.holds.get(body.holdId)
  if (!hold || hold.lifted) return refuse('noSuchHold')
  if (!by.roles.includes('safety') || !by.personId) return refuse('onlySafetyOfficer')
  const against = liftReasons(hold, body, day, now)
  return against ?? grant({ type: 'liftProposed', ...body })
}

/** S4: a second, different person; the evidence is asked again, since it may have gone stale meanwhile. */
export function confirmLift({ body, by }: Asked<'confirmLift'>, day: Day, now: Now): Permission {
  const hold = day.holds.get(body.holdId)
  if (!hold || hold.lifted) return refuse('noSuchHold')
  if (!hold.proposal) return refuse('liftNotProposed')
  if (!by.personId || by.personId === hold.proposal.by) return refuse('secondPersonSame')
  const evidence = { holdId: body.holdId, readingId: hold.proposal.readingId as never, reason: 'given' as const }
  const against = liftReasons(hold, evidence, day, now)
  return (
    against ?? grant({ type: 'holdLifted', holdId: body.holdId, proposedBy: hold.proposal.by, readingId: hold.proposal.readingId as never })
  )
}

type Evidence = { readingId: string | null; reason: unknown }

function liftReasons(hold: Hold, evidence: Evidence, day: Day, now: Now): Permission | null {
  const due = outcomeDue(day, hold)
  if (due.length > 0) return refuse('dispositionDue', { count: due.length })
  if (hold.kind === 'heat') return heatReasons(hold, evidence, day, now)
  if (hold.kind === 'lightning') return lightningReasons(hold, day, now)
  if (hold.kind === 'air' || hold.kind === 'cold') return observationReasons(hold, evidence, day)
  return evidence.reason === null ? refuse('reasonMissing') : null
}

function heatReasons(hold: Hold, { readingId }: Evidence, day: Day, now: Now): Permission | null {
  const policy = day.opened?.rules.heatPolicy as HeatPolicy | null | undefined
  const reading = day.readings.find((one) => one.readingId === readingId)
  if (!reading || !policy) return refuse('readingMissing')
  // Read in the gym it says nothing of the track: a hold on one zone is lifted by a reading there, one on the site by one outdoors.
  const isThere = hold.zoneId === null ? zoneOf(day, reading.zoneId)?.outdoor === true : reading.zoneId === hold.zoneId
  if (!isThere) return refuse('readingMissing')
  const asked = mayLift({
    reading,
    others: day.readings.toArray(),
    hold: { raisedAt: happenedAt(hold.raised), bandMs: hold.raised.bandMs },
    policy,
    nowMs: now.recordedAt,
  })
  if ('granted' in asked) return null
  if (asked.refused === 'otherUnit') return refuse('readingUnusable')
  return refuse(asked.refused, { policy: policy.id, minutes: policy.dwellMinutes })
}

/** Each thunder or flash restarts the clock; without one since, the raise itself started it. */
function lightningReasons(hold: Hold, day: Day, now: Now): Permission | null {
  const minutes = day.opened?.rules.lightningMinutes ?? 30
  const seen = day.hazards
    .filter((hazard) => hazard.kind === 'thunder' || hazard.kind === 'flash')
    .map((hazard) => happenedAt(hazard.told) + hazard.told.bandMs)
  const last = Math.max(happenedAt(hold.raised) + hold.raised.bandMs, ...seen)
  const ago = Math.max(0, Math.floor((now.recordedAt - last) / 60_000))
  return now.recordedAt - last < minutes * 60_000 ? refuse('lightningClock', { ago, minutes }) : null
}

/** The newest value seen since the raise must not raise it again. Where the site has set no figure, a person's reason stands in for it. */
function observationReasons(hold: Hold, { reason }: Evidence, day: Day): Permission | null {
  const kind = hold.kind === 'air' ? 'airIndex' : 'windChill'
  const raisedAt = happenedAt(hold.raised) + hold.raised.bandMs
  const newest = day.hazards
    .filter((hazard) => hazard.kind === kind && happenedAt(hazard.told) - hazard.told.bandMs > raisedAt)
    .sort((one, other) => happenedAt(one.told) - happenedAt(other.told))
    .at(-1)
  if (!newest || newest.value === null) return refuse('observationMissing')
  const figure = hold.kind === 'air' ? day.opened?.rules.airHoldFrom : day.opened?.rules.coldHoldAtTenthsDegC
  if (figure === undefined) return reason === null ? refuse('figureMissing') : null
  const callsForHold = hold.kind === 'air' ? airCallsForHold : coldCallsForHold
  return callsForHold(newest.value, figure) ? refuse('stillCallsForHold') : null
}

/** The radio's word covers one station or wave and one contact-age period, which a clock that runs ahead does not stretch. */
export function confirmByRadio({ body, envelope }: Asked<'confirmByRadio'>, day: Day, now: Now): Observed {
  const from = Math.min(happenedAt(envelope), now.recordedAt)
  return observe({ type: 'radioConfirmed', ...body, until: from + (day.opened?.rules.contactAgeMs ?? 0) })
}

export const seeAtHeadcount = ({ body }: Asked<'seeAtHeadcount'>): Observed => observe({ type: 'seenAtHeadcount', ...body })

export function takeHeadcount({ body }: Asked<'takeHeadcount'>, day: Day): Observed {
  const missing = expectedAt(day, body.zoneId)
    .map((student) => student.studentId)
    .filter((studentId) => !body.present.includes(studentId))
  return observe({ type: 'headcountTaken', ...body, missing })
}

/** Who should be there is who is under way there, or came off it and has not cooled down. */
export function expectedAt(day: Day, zoneId: string): Student[] {
  return [...day.students.values()].filter((student) => {
    const isThere = attemptsUnderWay(student).some((attempt) => stationOf(day, attempt.stationId)?.zoneId === zoneId)
    return isThere || (shape(student).coolDown === 'due' && ranIn(day, lastRun(day, student), zoneId))
  })
}

/**
 * From when on a touch says that somebody is there: not before a hold that is in force was raised, nor before they last
 * set out. A count that found everybody is over; one that did not goes on with whom it has seen.
 */
export function seenCountsFrom(day: Day, zoneId: ZoneId, student: Student): number {
  const holds = [...day.holds.values()].filter((hold) => !hold.lifted && (hold.zoneId === null || hold.zoneId === zoneId))
  const setOut = student.attempts.flatMap(({ started, stationId }) =>
    started && stationOf(day, stationId)?.zoneId === zoneId ? [happenedAt(started)] : [],
  )
  const last = day.headcounts.get(zoneId)
  return Math.max(
    0,
    ...holds.map(({ raised }) => happenedAt(raised)),
    ...setOut,
    last && last.missing.length === 0 ? happenedAt(last.told) : 0,
  )
}

const lastRun = (day: Day, student: Student) =>
  student.attempts.findLast((attempt) => stationOf(day, attempt.stationId)?.protocol.kind === 'run')?.stationId

const ranIn = (day: Day, stationId: Parameters<typeof stationOf>[1] | undefined, zoneId: string): boolean =>
  !!stationId && stationOf(day, stationId)?.zoneId === zoneId
