import type { DayEventOf } from '@musterbook/vocabulary/events'
import { attemptsUnderWay, type Student } from '../day.ts'

/** Whatever a student is in ends without a score and without a used try. */
export const interrupts = (student: Student | undefined, by: 'medicalStop' | 'withdrawal'): DayEventOf<'attemptInterrupted'>[] =>
  attemptsUnderWay(student).map(({ attemptId, studentId, stationId }) => ({
    type: 'attemptInterrupted',
    attemptId,
    studentId,
    stationId,
    by,
    holdId: null,
  }))
