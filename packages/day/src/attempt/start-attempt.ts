import type { DayEventOf } from '@musterbook/vocabulary/events'
import type { ReviewReason } from '@musterbook/vocabulary/review'
import type { Rule } from '@musterbook/vocabulary/refusals'
import { opensReview, reviewIdOf } from '../about.ts'
import { stationOf, type Day } from '../day.ts'
import { grant, refuse, type Asked, type Now, type Permission } from '../decision.ts'
import { newestReading } from '../hold/readings.ts'
import { reasonsAgainst, triesUsed } from './may-start.ts'

/** May this student start here, now? Out of contact it has happened already, and what stands against it waits for a ruling. */
export function startAttempt({ body, envelope }: Asked<'startAttempt'>, day: Day, now: Now): Permission {
  const about = { studentId: body.studentId, stationId: body.stationId }
  const student = day.students.get(body.studentId)
  const station = stationOf(day, body.stationId)
  if (!student) return refuse('notOnRoster', {}, about)
  if (!station) return refuse('noSuchStation', {}, about)
  if (student.attempts.some((attempt) => attempt.attemptId === body.attemptId)) return refuse('attemptExists', {}, about)
  if (station.protocol.kind === 'run') return refuse('waveNeeded', {}, about)

  const reasons = reasonsAgainst({
    day,
    student,
    station,
    official: body.official,
    envelope,
    observerId: body.observerId,
    early: body.earlyBecause !== null,
    now,
  })
  const gravest = reasons[0]
  const queueless =
    student.calledTo?.stationId !== station.stationId && student.queue.some((place) => place.stationId === station.stationId)
  if (gravest && !envelope.decidedOnDevice) return refuse(gravest.rule, gravest.params, about)
  if (queueless && !envelope.decidedOnDevice) return refuse('notCalledUp', { station: station.protocol.name }, about)
  if (station.protocol.kind === 'loaded' && !body.load && !envelope.decidedOnDevice) return refuse('loadMissing', {}, about)

  const reviewId = gravest ? reviewIdOf(envelope.commandId) : null
  const started: DayEventOf<'attemptStarted'> = {
    type: 'attemptStarted',
    ...body,
    number: body.official ? triesUsed(student, station) + 1 : 0,
    waveId: null,
    readingId: newestReading(day)?.readingId ?? null,
    reviewId,
  }
  if (!gravest || !reviewId) return grant(started)
  return grant(started, opensReview(reviewId, reviewFor(gravest.rule), { ...about, attemptId: body.attemptId }))
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
