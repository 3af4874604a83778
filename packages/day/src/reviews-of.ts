import type { ReviewReason } from '@musterbook/vocabulary/review'
import type { Attempt, Day, Review } from './day.ts'

/** What was asked about a try, answered or not. */
export const reviewsOf = (day: Day, attempt: Attempt): Review[] => attempt.reviewIds.flatMap((reviewId) => day.reviews.get(reviewId) ?? [])

export const hasReview = (day: Day, attempt: Attempt, because: readonly ReviewReason[]): boolean =>
  reviewsOf(day, attempt).some((review) => because.includes(review.because))

/** Why a try waits whose start or course a hold stood over. */
export const underHold: readonly ReviewReason[] = ['ranUnderHold', 'orderNotCertain']
