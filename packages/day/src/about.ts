import type { DayEventOf } from '@musterbook/vocabulary/events'
import type { ReviewId } from '@musterbook/vocabulary/ids'
import type { About, ReviewReason } from '@musterbook/vocabulary/review'

const nobody: About = { studentId: null, stationId: null, attemptId: null, waveId: null, holdId: null, equipmentId: null }

/** Its id follows from the command that opened it, so that a command told twice opens it once. */
export const reviewIdOf = (commandId: string, number = 1): ReviewId => `${commandId}.r${number}` as ReviewId

export const opensReview = (reviewId: ReviewId, because: ReviewReason, about: Partial<About>): DayEventOf<'reviewOpened'> => ({
  type: 'reviewOpened',
  reviewId,
  because,
  about: { ...nobody, ...about },
})
