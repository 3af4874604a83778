import type { DayEvent } from '@musterbook/vocabulary/events'
import type { EntitlementId } from '@musterbook/vocabulary/ids'
import { addDays } from '../calendar.ts'
import type { Protocol } from '@musterbook/stations/protocol'
import type { Change } from '@musterbook/vocabulary/review'
import { opensReview, reviewIdOf } from '../about.ts'
import { isCovered, triesAllowed, triesUsed } from '../attempt/may-start.ts'
import { attemptUnderWay, shape, stationOf, type Attempt, type Day, type Student } from '../day.ts'
import { isReadable } from '../readable.ts'
import { reviewsOf } from '../reviews-of.ts'
import { grant, refuse, type Asked, type Permission } from '../decision.ts'

/** A supervisor decides what waits. Facts stay; what counts follows. Nobody rules on what they recorded themselves. */
export function rule({ body, by, envelope }: Asked<'rule'>, day: Day): Permission {
  const review = day.reviews.get(body.reviewId)
  if (!review || review.ruled) return refuse('noSuchReview')
  if (review.opened.personId !== null && review.opened.personId === by.personId) return refuse('ownReview')
  const { studentId, stationId, attemptId } = review.about
  const ruled: DayEvent = { type: 'reviewRuled', ...body }
  if (body.ruling !== 'retest' || !studentId || !stationId) return grant(ruled)
  return grant(ruled, {
    type: 'retestGranted',
    entitlementId: `${envelope.commandId}.e` as EntitlementId,
    studentId,
    stationIds: [stationId],
    until: addDays(day.opened?.facts.date ?? '1970-01-01', day.opened?.rules.retestDays ?? 0),
    because: 'ruling',
    reason: body.reason,
    attemptId,
  })
}

/**
 * A new event that names the old one. Until the student is signed off staff mend their own slips; from then on a
 * supervisor does, and a second person agrees, since a result moves.
 */
export function correct({ body, by, envelope }: Asked<'correct'>, day: Day): Permission {
  const about = { studentId: body.studentId }
  const student = day.students.get(body.studentId)
  const attempt = student?.attempts.find((one) => one.attemptId === body.attemptId)
  if (!student || !attempt) return refuse('noSuchAttempt', {}, about)
  const isSupervisor = by.roles.includes('supervisor')
  const isFinal = student.signedOffAt !== null || day.sealed !== null
  if (body.change.kind === 'official' && !isSupervisor) return refuse('kindFixed', {}, about)
  if (isFinal && !isSupervisor) return refuse('afterSignOff', {}, about)
  if (attempt.revision !== body.seenRevision) return refuse('changedSince', {}, about)
  if (body.change.kind === 'reassign' && !day.students.has(body.change.toStudentId))
    return refuse('notOnRoster', {}, { studentId: body.change.toStudentId })
  if (attempt.status === 'reassigned' || (attemptUnderWay(student) === attempt && body.change.kind !== 'official'))
    return refuse('noSuchAttempt', {}, about)
  const unreadable = unreadableIn(day, attempt, body.change)
  if (unreadable) return refuse('unitNotOfStation', {}, { ...about, stationId: attempt.stationId })
  if (isTaken(day, student, body.change)) return refuse('attemptExists', {}, about)
  if (isFinal && !by.countersigned) return refuse('secondPersonMissing', {}, about)
  if (isFinal && by.countersigned?.personId === by.personId) return refuse('secondPersonSame', {}, about)
  return grant(
    { type: 'corrected', ...body, countersigned: by.countersigned ? { personId: by.countersigned.personId } : null },
    ...questionsOnTheOther(day, attempt, body.change, envelope.commandId),
    ...questionOfNumber(day, student, attempt, body.change, envelope.commandId),
    ...questionGone(day, attempt, body.change),
  )
}

const unreadableIn = (day: Day, attempt: Attempt, change: Change): boolean => {
  const station = stationOf(day, attempt.stationId)
  return change.kind === 'value' && (!station || !isReadable(change.value, station.protocol as unknown as Protocol))
}

/** To oneself, or under an id that the other has a try under already. */
function isTaken(day: Day, student: Student, change: Change): boolean {
  if (change.kind !== 'reassign') return false
  const others = day.students.get(change.toStudentId)?.attempts ?? []
  return change.toStudentId === student.studentId || others.some((one) => one.attemptId === change.newAttemptId)
}

/** The effort was somebody else's: what would have stood against theirs waits for a ruling. */
function questionsOnTheOther(day: Day, attempt: Attempt, change: Change, commandId: string): DayEvent[] {
  const other = change.kind === 'reassign' ? day.students.get(change.toStudentId) : undefined
  const station = stationOf(day, attempt.stationId)
  if (!other || !station || change.kind !== 'reassign' || !attempt.official) return []
  const { prerequisites } = station.protocol
  const because = !isCovered(other, station)
    ? 'notCleared'
    : prerequisites.includes('warmUp') && other.warmUpAt === null
      ? 'warmUpMissing'
      : triesUsed(other, station) >= triesAllowed(other, station)
        ? 'beyondTries'
        : null
  if (!because) return []
  const about = { studentId: change.toStudentId, stationId: station.stationId, attemptId: change.newAttemptId }
  return [opensReview(reviewIdOf(commandId), because, about)]
}

/** Made official when every permitted try was used: it waits for a ruling, as it would had it been run so. */
function questionOfNumber(day: Day, student: Student, attempt: Attempt, change: Change, commandId: string): DayEvent[] {
  const station = stationOf(day, attempt.stationId)
  if (change.kind !== 'official' || !change.official || attempt.official || !station) return []
  if (triesUsed(student, station) < triesAllowed(student, station)) return []
  const about = { studentId: student.studentId, stationId: station.stationId, attemptId: attempt.attemptId }
  return [opensReview(reviewIdOf(commandId), 'beyondTries', about)]
}

/** Back to practice, it is beyond no number any more. */
const questionGone = (day: Day, attempt: Attempt, change: Change): DayEvent[] =>
  change.kind === 'official' && !change.official
    ? reviewsOf(day, attempt)
        .filter((review) => review.because === 'beyondTries' && !review.ruled)
        .map(({ reviewId }) => ({ type: 'reviewSettled', reviewId, by: 'correct' }))
    : []

export function grantRetest({ body }: Asked<'grantRetest'>, day: Day): Permission {
  const student = day.students.get(body.studentId)
  if (!student) return refuse('notOnRoster', {}, { studentId: body.studentId })
  if (student.healthEvent) return refuse('healthEventOpen', {}, { studentId: body.studentId })
  return grant({ type: 'retestGranted', ...body, because: 'supervisor', attemptId: null })
}

/** The lap is walked and somebody looked. What they saw that worries them is a referral of its own. */
export function confirmCoolDown({ body }: Asked<'confirmCoolDown'>, day: Day): Permission {
  const student = day.students.get(body.studentId)
  if (!student) return refuse('notOnRoster', {}, body)
  return shape(student).coolDown === 'due'
    ? grant({ type: 'coolDownConfirmed', ...body })
    : refuse('coolDownNotDue', {}, { studentId: body.studentId })
}

export function excuseCoolDown({ body }: Asked<'excuseCoolDown'>, day: Day): Permission {
  const student = day.students.get(body.studentId)
  if (!student) return refuse('notOnRoster', {}, { studentId: body.studentId })
  return shape(student).coolDown === 'due'
    ? grant({ type: 'coolDownExcused', ...body })
    : refuse('coolDownNotDue', {}, { studentId: body.studentId })
}

export function signOffStudent({ body }: Asked<'signOffStudent'>, day: Day): Permission {
  const about = { studentId: body.studentId }
  const student = day.students.get(body.studentId)
  if (!student) return refuse('notOnRoster', {}, about)
  const { presence, coolDown } = shape(student)
  if (presence !== 'present') return refuse(presence === 'complete' ? 'afterSignOff' : 'notCheckedIn', {}, about)
  if (coolDown === 'due') return refuse('coolDownDue', {}, about)
  const other = attemptUnderWay(student)
  if (other) return refuse('otherUnderWay', { station: other.stationId }, about)
  return grant({ type: 'studentSignedOff', ...body })
}
