import type { DayEvent } from '@musterbook/vocabulary/events'
import { happenedAt } from '@musterbook/vocabulary/envelope'
import { opensReview, reviewIdOf } from '../about.ts'
import { interrupts } from '../attempt/interrupts.ts'
import { settlesConflicts } from '../clearance/clearance.ts'
import { attemptsUnderWay, type Day, type Student } from '../day.ts'
import { grant, observe, refuse, type Asked, type Observed, type Permission } from '../decision.ts'

/**
 * Anyone may stop a student, at any time, twice if need be. What is under way ends without a score and without a used
 * try. A stop that is told of afterwards stands from when it was pressed: what ended under it waits for a ruling.
 */
export function stopStudent({ body, envelope }: Asked<'stopStudent'>, day: Day): Observed {
  const student = day.students.get(body.studentId)
  return observe(...stops(student, body), ...endedUnderIt(student, envelope))
}

/** Where the order is not certain, it ended under the stop. */
function endedUnderIt(student: Student | undefined, envelope: Asked<'stopStudent' | 'refer'>['envelope']): DayEvent[] {
  const since = happenedAt(envelope) - envelope.bandMs
  const after = student?.attempts.filter((attempt) => attempt.status === 'recorded' && (attempt.endedAt ?? 0) > since) ?? []
  return after.map(({ studentId, stationId, attemptId, waveId }, index) =>
    opensReview(reviewIdOf(envelope.commandId, index + 1), 'stopped', { studentId, stationId, attemptId, waveId }),
  )
}

function stops(student: Student | undefined, body: Asked<'stopStudent'>['body']): DayEvent[] {
  const [attempt] = attemptsUnderWay(student)
  return [{ type: 'studentStopped', ...body, attemptId: attempt?.attemptId ?? null }, ...interrupts(student, 'medicalStop')]
}

export const nameStopper = ({ body }: Asked<'nameStopper'>): Observed => observe({ type: 'stopperNamed', ...body })

export const answerStop = ({ body }: Asked<'answerStop'>): Observed => observe({ type: 'stopAnswered', ...body })

/** Who reports feeling unwell or hurt is stopped and referred, from when they said so. */
export function refer({ body, envelope }: Asked<'refer'>, day: Day): Observed {
  const student = day.students.get(body.studentId)
  const { studentId } = body
  const first = student?.stop ? [] : [...stops(student, { studentId, zoneId: null, reason: 'unwell' }), ...endedUnderIt(student, envelope)]
  return observe(...first, { type: 'studentReferred', ...body })
}

/**
 * The screener's answer. Cleared lifts the stop when nothing else is open about the student; limited does once a limited
 * clearance stands, so that nobody goes on without the limits; not today is a clearance of its own.
 */
export function answerReferral({ body, envelope }: Asked<'answerReferral'>, day: Day): Permission {
  const student = day.students.get(body.studentId)
  const referral = student?.referrals.find((one) => one.referralId === body.referralId && !one.answered)
  if (!student || !referral) return refuse('noSuchReferral', {}, { studentId: body.studentId })
  const answered: DayEvent = { type: 'referralAnswered', ...body }
  if (body.outcome === 'notToday') {
    const recorded: DayEvent = {
      type: 'clearanceRecorded',
      clearanceId: `${envelope.commandId}.c` as never,
      studentId: body.studentId,
      status: 'notToday',
      limits: [],
      supersedes: student.clearances.at(-1)?.clearanceId ?? null,
      conflictsWith: [],
    }
    return grant(answered, recorded, ...settlesConflicts(day, body.studentId))
  }
  const others = student.referrals.some((one) => one !== referral && !one.answered)
  const isLimited = body.outcome === 'cleared' || student.clearance.status === 'limited'
  return student.stop && !others && isLimited ? grant(answered, { type: 'studentRestored', studentId: body.studentId }) : grant(answered)
}

/** S5: only a medical screener restores. */
export function restore({ body, by }: Asked<'restore'>, day: Day): Permission {
  const about = { studentId: body.studentId }
  const student = day.students.get(body.studentId)
  if (!student) return refuse('notOnRoster', {}, about)
  if (!by.roles.includes('screener')) return refuse('onlyScreener', {}, about)
  if (!student.stop) return refuse('notStopped', {}, about)
  return grant({ type: 'studentRestored', ...body })
}

export const callStaff = ({ body, by }: Asked<'callStaff'>): Observed => observe({ type: 'staffCalled', ...body, deviceId: by.deviceId })

export const answerCall = ({ body }: Asked<'answerCall'>): Observed => observe({ type: 'callAnswered', ...body })

export const reportHealthEvent = ({ body }: Asked<'reportHealthEvent'>): Observed => observe({ type: 'healthEventReported', ...body })
