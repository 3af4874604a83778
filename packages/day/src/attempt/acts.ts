import { happenedAt } from '@musterbook/vocabulary/envelope'
import { attemptUnderWay, type Attempt, type Day } from '../day.ts'
import { opensReview, reviewIdOf } from '../about.ts'
import { grant, observe, refuse, type Asked, type Observed, type Permission } from '../decision.ts'

/** A gun is called back within this; later somebody has run, and a cool-down is due. */
const recallMs = 60_000

/** Armed in error, nothing happened: the try is given back. So is a false start that is called back at once. */
export function releaseAttempt({ body, envelope }: Asked<'releaseAttempt'>, day: Day): Permission {
  const student = day.students.get(body.studentId)
  const attempt = student?.attempts.find((one) => one.attemptId === body.attemptId)
  if (!student || !attempt) return refuse('noSuchAttempt', {}, { studentId: body.studentId })
  if (
    attempt !== attemptUnderWay(student) ||
    attempt.observations.length > 0 ||
    (attempt.waveId && !isFalseStart(attempt, happenedAt(envelope)))
  )
    return refuse('notReleasable', {}, { studentId: body.studentId })
  return grant({ type: 'attemptReleased', ...body })
}

const isFalseStart = ({ started, taps }: Attempt, at: number): boolean =>
  taps.length === 0 && started !== null && at - happenedAt(started) <= recallMs

/** "Not what I heard": the student’s word stands beside the value until a supervisor rules. */
export function disputeReadBack({ body, envelope }: Asked<'disputeReadBack'>, day: Day): Observed {
  const reviewId = reviewIdOf(envelope.commandId)
  const attempt = day.students.get(body.studentId)?.attempts.find((one) => one.attemptId === body.attemptId)
  return observe(
    opensReview(reviewId, 'readBackDisputed', {
      studentId: body.studentId,
      attemptId: body.attemptId,
      stationId: attempt?.stationId ?? null,
    }),
    { type: 'readBackDisputed', ...body, reviewId },
  )
}

/** Two readings of one try differ, and staff have seen it: the protocol's rule counts from here. */
export function acknowledgeDifference({ body }: Asked<'acknowledgeDifference'>, day: Day): Permission {
  const attempt = day.students.get(body.studentId)?.attempts.find((one) => one.attemptId === body.attemptId)
  if (!attempt) return refuse('noSuchAttempt', {}, { studentId: body.studentId })
  const open = attempt.reviewIds.filter((reviewId) => {
    const review = day.reviews.get(reviewId)
    return review && !review.ruled && review.because === 'readingsDiffer'
  })
  return grant(
    { type: 'differenceAcknowledged', ...body },
    ...open.map((reviewId) => ({ type: 'reviewSettled' as const, reviewId, by: 'acknowledged' })),
  )
}

export const answerPrompt = ({ body }: Asked<'answerPrompt'>): Observed => observe({ type: 'promptAnswered', ...body })
