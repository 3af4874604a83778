import type { DayEventOf } from '@musterbook/vocabulary/events'
import type { ReviewReason } from '@musterbook/vocabulary/review'
import type { Rule } from '@musterbook/vocabulary/refusals'
import { opensReview, reviewIdOf } from '../about.ts'
import { stationOf, type Day } from '../day.ts'
import { grant, refuse, type Asked, type Now, type Permission } from '../decision.ts'
import { newestReading } from '../hold/readings.ts'
import { reasonsAgainst, triesUsed } from './may-start.ts'
import { isAtTwoPlaces } from './two-places.ts'

/** May this student start here, now? Out of contact it has happened already, and what stands against it waits for a ruling. */
export function startAttempt(command: Asked<'startAttempt'>, day: Day, now: Now): Permission {
  const { body, envelope } = command
  const about = { studentId: body.studentId, stationId: body.stationId }
  const student = day.students.get(body.studentId)
  const station = stationOf(day, body.stationId)
  const known = student?.attempts.some((attempt) => attempt.attemptId === body.attemptId) ?? false
  const isRun = station?.protocol.kind === 'run'
  if (envelope.decidedOnDevice) return grant(...startedAlready(command, day, now))
  if (!student) return refuse('notOnRoster', {}, about)
  if (!station) return refuse('noSuchStation', {}, about)
  if (known) return refuse('attemptExists', {}, about)
  if (isRun) return refuse('waveNeeded', {}, about)

  const early = body.earlyBecause !== null
  const [gravest] = reasonsAgainst({ day, student, station, official: body.official, envelope, observerId: body.observerId, early, now })
  if (gravest) return refuse(gravest.rule, gravest.params, about)
  const isWaiting = student.queue.some((place) => place.stationId === station.stationId)
  if (isWaiting && student.calledTo?.stationId !== station.stationId)
    return refuse('notCalledUp', { station: station.protocol.name }, about)
  if (station.protocol.kind === 'loaded' && !body.load) return refuse('loadMissing', {}, about)
  if (!isAtTwoPlaces(day, student, station.stationId, envelope)) return grant(started(body, day, null))
  const reviewId = reviewIdOf(envelope.commandId)
  return grant(started(body, day, reviewId), opensReview(reviewId, 'twoPlaces', { ...about, attemptId: body.attemptId }))
}

/** A device out of contact let it happen: kept whatever it says, also of somebody or something that the day does not know. */
function startedAlready({ body, envelope }: Asked<'startAttempt'>, day: Day, now: Now) {
  const student = day.students.get(body.studentId)
  const station = stationOf(day, body.stationId)
  const early = body.earlyBecause !== null
  const others = student && { ...student, attempts: student.attempts.filter((attempt) => attempt.attemptId !== body.attemptId) }
  const [gravest] =
    others && station
      ? reasonsAgainst({ day, student: others, station, official: body.official, envelope, observerId: body.observerId, early, now })
      : []
  const isKnown = student?.attempts.some((attempt) => attempt.attemptId === body.attemptId && attempt.started) ?? false
  const isUnreadable = !others || !station || station.protocol.kind === 'run'
  const elsewhere = others && station && isAtTwoPlaces(day, others, station.stationId, envelope)
  const because = isUnreadable ? 'unreadable' : gravest ? reviewFor(gravest.rule) : elsewhere ? 'twoPlaces' : null
  if (!because || isKnown) return [started(body, day, null)]
  const reviewId = reviewIdOf(envelope.commandId)
  const { studentId, stationId, attemptId } = body
  return [started(body, day, reviewId), opensReview(reviewId, because, { studentId, stationId, attemptId })]
}

function started(
  body: Asked<'startAttempt'>['body'],
  day: Day,
  reviewId: DayEventOf<'attemptStarted'>['reviewId'],
): DayEventOf<'attemptStarted'> {
  const student = day.students.get(body.studentId)
  const station = stationOf(day, body.stationId)
  return {
    type: 'attemptStarted',
    ...body,
    number: body.official && student && station ? triesUsed(student, station) + 1 : 0,
    waveId: null,
    readingId: newestReading(day)?.readingId ?? null,
    reviewId,
  }
}

/** The reason for review that stands for a rule which a start out of contact has crossed. */
export function reviewFor(rule: Rule): ReviewReason {
  const named: Partial<Record<Rule, ReviewReason>> = {
    stopped: 'stopped',
    healthEventOpen: 'stopped',
    notCleared: 'notCleared',
    observerNeeded: 'notCleared',
    holdInForce: 'ranUnderHold',
    warmUpMissing: 'warmUpMissing',
    bodyMassMissing: 'bodyMassMissing',
    triesUsed: 'beyondTries',
    otherUnderWay: 'otherUnderWay',
    calledElsewhere: 'otherUnderWay',
    equipmentBlocked: 'equipmentOutOfTolerance',
  }
  return named[rule] ?? 'startedOutOfContact'
}
