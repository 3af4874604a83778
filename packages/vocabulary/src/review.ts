import { z } from 'zod'
import { AttemptId, CorrectionId, EntitlementId, EquipmentId, HoldId, ReviewId, StationId, StudentId, WaveId } from './ids.ts'
import { Measured } from './measured.ts'
import { Countersigned, SealedText } from './people.ts'

/** Why something waits for a person to decide. */
export const ReviewReason = z.enum([
  'noSuchAttempt',
  'startedOutOfContact',
  'ranUnderHold',
  'orderNotCertain',
  'notCleared',
  'stopped',
  'warmUpMissing',
  'beyondTries',
  'otherUnderWay',
  'readingsDiffer',
  'farApart',
  'lapsMissing',
  'readBackDisputed',
  'bodyMassMissing',
  'massAfterEffort',
  'unusualValueKept',
  'equipmentOutOfTolerance',
  'clearanceConflict',
  'foldsIncomplete',
  'sumOutOfRange',
  'lateAfterSeal',
  'unreadable',
  'crossingUnpaired',
  'clocksDisagree',
  'twoPlaces',
])
export type ReviewReason = z.infer<typeof ReviewReason>

export const About = z.strictObject({
  studentId: StudentId.nullable(),
  stationId: StationId.nullable(),
  attemptId: AttemptId.nullable(),
  waveId: WaveId.nullable(),
  holdId: HoldId.nullable(),
  equipmentId: EquipmentId.nullable(),
})
export type About = z.infer<typeof About>

export const Ruling = z.enum(['counts', 'doesNotCount', 'retest', 'settled'])
export type Ruling = z.infer<typeof Ruling>

const Change = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('value'), value: Measured }),
  z.strictObject({ kind: z.literal('void') }),
  z.strictObject({ kind: z.literal('official'), official: z.boolean() }),
  z.strictObject({ kind: z.literal('reassign'), toStudentId: StudentId, newAttemptId: AttemptId }),
])
export type Change = z.infer<typeof Change>

// Acts

export const Rule = z.strictObject({ reviewId: ReviewId, ruling: Ruling, reason: SealedText })
export const Correct = z.strictObject({
  correctionId: CorrectionId,
  studentId: StudentId,
  attemptId: AttemptId,
  change: Change,
  reason: SealedText,
  /** How often this attempt had been changed when the screen opened it: a later save over a changed record is refused. */
  seenRevision: z.int().nonnegative(),
})
export const GrantRetest = z.strictObject({
  entitlementId: EntitlementId,
  studentId: StudentId,
  stationIds: z.array(StationId).min(1).max(20),
  /** Last civil date on which it may be used. */
  until: z.iso.date(),
  reason: SealedText.nullable(),
})
export const ConfirmCoolDown = z.strictObject({ studentId: StudentId, lookOver: z.enum(['nothingSeen', 'referred']) })
export const ExcuseCoolDown = z.strictObject({ studentId: StudentId, reason: SealedText })
export const SignOffStudent = z.strictObject({ studentId: StudentId })

// Events

export const ReviewOpened = z.strictObject({ type: z.literal('reviewOpened'), reviewId: ReviewId, because: ReviewReason, about: About })
export const ReviewRuled = z.strictObject({ type: z.literal('reviewRuled'), ...Rule.shape })
/** What was asked has been answered by another act: a lap inferred, a difference acknowledged, a conflict decided. */
export const ReviewSettled = z.strictObject({ type: z.literal('reviewSettled'), reviewId: ReviewId, by: z.string().max(40) })
export const Corrected = z.strictObject({
  type: z.literal('corrected'),
  ...Correct.shape,
  countersigned: Countersigned.nullable(),
})
export const RetestGranted = z.strictObject({
  type: z.literal('retestGranted'),
  entitlementId: EntitlementId,
  studentId: StudentId,
  stationIds: z.array(StationId),
  until: z.iso.date(),
  because: z.enum(['hold', 'medicalStop', 'ruling', 'supervisor']),
  reason: SealedText.nullable(),
  attemptId: AttemptId.nullable(),
})
export const CoolDownConfirmed = z.strictObject({ type: z.literal('coolDownConfirmed'), ...ConfirmCoolDown.shape })
export const CoolDownExcused = z.strictObject({ type: z.literal('coolDownExcused'), ...ExcuseCoolDown.shape })
export const StudentSignedOff = z.strictObject({ type: z.literal('studentSignedOff'), studentId: StudentId })
