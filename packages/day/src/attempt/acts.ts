import { attemptUnderWay, type Day } from '../day.ts'
import { opensReview, reviewIdOf } from '../about.ts'
import { grant, observe, refuse, type Asked, type Observed, type Permission } from '../decision.ts'

/** Armed in error, nothing happened: the try is given back. */
export function releaseAttempt({ body }: Asked<'releaseAttempt'>, day: Day): Permission {
  const student = day.students.get(body.studentId)
  const attempt = student?.attempts.find((one) => one.attemptId === body.attemptId)
  if (!student || !attempt) return refuse('noSuchAttempt', {}, { studentId: body.studentId })
  if (attempt !== attemptUnderWay(student) || attempt.observations.length > 0 || attempt.waveId)
    return refuse('notReleasable', {}, { studentId: body.studentId })
  return grant({ type: 'attemptReleased', ...body })
}

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
