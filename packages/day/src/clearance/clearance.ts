import type { DayEvent } from '@musterbook/vocabulary/events'
import { opensReview, reviewIdOf } from '../about.ts'
import { interrupts } from '../attempt/interrupts.ts'
import { openReviews, type Day, type Student } from '../day.ts'
import { isMass } from '../readable.ts'
import { grant, observe, refuse, type Asked, type Observed, type Permission } from '../decision.ts'

/**
 * A screener's judgement. One who saw what stood replaces it, and settles a conflict by that; one who did not stands
 * beside it: the stricter governs, and both screeners see a conflict to settle.
 */
export function recordClearance({ body, envelope }: Asked<'recordClearance'>, day: Day): Permission {
  const about = { studentId: body.studentId }
  const student = day.students.get(body.studentId)
  if (!student) return refuse('notOnRoster', {}, about)
  const standing = student.clearances.map((clearance) => clearance.clearanceId)
  const newest = standing.at(-1) ?? null
  const recorded = { type: 'clearanceRecorded' as const, ...body }
  if (body.supersedes !== newest) {
    const reviewId = reviewIdOf(envelope.commandId)
    return grant({ ...recorded, conflictsWith: standing }, opensReview(reviewId, 'clearanceConflict', about))
  }
  return grant({ ...recorded, conflictsWith: [] }, ...settlesConflicts(day, body.studentId))
}

export const settlesConflicts = (day: Day, studentId: Student['studentId']): DayEvent[] =>
  openReviews(day)
    .filter((review) => review.because === 'clearanceConflict' && review.about.studentId === studentId)
    .map((review) => ({ type: 'reviewSettled', reviewId: review.reviewId, by: 'newClearance' }))

/** Holds at once, also for who is on the bench at this moment: that attempt ends without a score. */
export function withdrawClearance({ body }: Asked<'withdrawClearance'>, day: Day): Permission {
  const student = day.students.get(body.studentId)
  if (!student) return refuse('notOnRoster', {}, { studentId: body.studentId })
  return grant({ type: 'clearanceWithdrawn', ...body }, ...interrupts(student, 'medicalStop'), ...settlesConflicts(day, body.studentId))
}

export function weigh({ body, envelope }: Asked<'weigh'>, day: Day): Observed {
  const student = day.students.get(body.studentId)
  const afterEffort = student?.attempts.some((attempt) => attempt.finish !== null || attempt.waveId !== null) ?? false
  const blocked = day.equipment.get(body.scaleId)?.blocked ?? false
  const because = !isMass(body.mass) ? 'unreadable' : blocked ? 'equipmentOutOfTolerance' : afterEffort ? 'massAfterEffort' : null
  const weighed = { type: 'weighed' as const, ...body, afterEffort }
  return because
    ? observe(weighed, opensReview(reviewIdOf(envelope.commandId), because, { studentId: body.studentId, equipmentId: body.scaleId }))
    : observe(weighed)
}

export function confirmWarmUp({ body }: Asked<'confirmWarmUp'>, day: Day): Permission {
  const unknown = body.studentIds.find((studentId) => !day.students.has(studentId))
  if (unknown) return refuse('notOnRoster', {}, { studentId: unknown })
  return grant(...body.studentIds.map((studentId) => ({ type: 'warmUpConfirmed' as const, studentId })))
}
