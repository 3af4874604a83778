import { z } from 'zod'
import { Bib, ClassId, StudentId } from './ids.ts'
import { Countersigned, Language, NormGroup, SealedText } from './people.ts'

// Acts

export const CheckIn = z.strictObject({
  studentId: StudentId,
  /** What the student showed beside the code. Never a name alone. */
  secondIdentifier: z.enum(['birthDate', 'photo', 'knownToGreeter']),
})
export const BindBib = z.strictObject({ studentId: StudentId, bib: Bib })
export const WalkIn = z.strictObject({ studentId: StudentId, classId: ClassId, normGroup: NormGroup, language: Language })
export const MarkAbsent = z.strictObject({ studentId: StudentId })
/** The student's own choice, at any time, without arguing first. */
export const Withdraw = z.strictObject({ studentId: StudentId })
export const ChangeNormGroup = z.strictObject({ studentId: StudentId, normGroup: NormGroup, reason: SealedText })

// Events

export const CheckedIn = z.strictObject({
  type: z.literal('checkedIn'),
  ...CheckIn.shape,
  /** After the first effort of the day had begun. */
  late: z.boolean(),
})
export const BibBound = z.strictObject({ type: z.literal('bibBound'), studentId: StudentId, bib: Bib, replaces: Bib.nullable() })
export const StudentAbsent = z.strictObject({ type: z.literal('studentAbsent'), studentId: StudentId })
export const StudentWithdrew = z.strictObject({ type: z.literal('studentWithdrew'), studentId: StudentId })
export const NormGroupChanged = z.strictObject({
  type: z.literal('normGroupChanged'),
  studentId: StudentId,
  from: NormGroup,
  to: NormGroup,
  reason: SealedText,
  countersigned: Countersigned,
})
