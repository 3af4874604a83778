import { z } from 'zod'
import { AttemptId, EquipmentId, HoldId, ObservationId, PersonId, ReadingId, ReviewId, StationId, StudentId, WaveId } from './ids.ts'
import { Measured } from './measured.ts'
import { SealedText } from './people.ts'

export const Outcome = z.enum(['good', 'foul', 'noLift', 'noFaultRerun', 'didNotFinish'])
export type Outcome = z.infer<typeof Outcome>

export const FoldReading = z.strictObject({ site: z.string().min(1).max(40), halfMillimetres: z.int().min(0).max(400) })
export type FoldReading = z.infer<typeof FoldReading>

const Digest = z.string().regex(/^[0-9a-f]{64}$/)

/** Typed later from a numbered paper sheet; when it happened is what is written there. */
export const FromPaper = z.strictObject({
  sheet: z.string().min(1).max(20),
  writerId: PersonId,
  /** Digest of a photo of the sheet itself. */
  photoDigest: Digest.optional(),
})
export type FromPaper = z.infer<typeof FromPaper>

// Acts

export const StartAttempt = z.strictObject({
  attemptId: AttemptId,
  studentId: StudentId,
  stationId: StationId,
  /** Chosen before the try and not a matter of opinion afterwards. */
  official: z.boolean(),
  /** The load on the bar, before the lift. */
  load: Measured.nullable(),
  equipmentIds: z.array(EquipmentId).max(5),
  /** Named where the clearance asks for one. */
  observerId: PersonId.nullable(),
  /** Rest not yet over, class not briefed: what was asked and answered before starting all the same. */
  earlyBecause: SealedText.nullable(),
  /** Absent where a tablet saw it start. */
  fromPaper: FromPaper.optional(),
})
/** Armed in error and nothing happened: the try is given back. */
export const ReleaseAttempt = z.strictObject({ attemptId: AttemptId, studentId: StudentId })
export const RecordResult = z.strictObject({
  observationId: ObservationId,
  attemptId: AttemptId,
  studentId: StudentId,
  stationId: StationId,
  outcome: Outcome,
  /** null where the outcome has no value. */
  value: Measured.nullable(),
  /** Skinfold readings in the order read; empty elsewhere. */
  folds: z.array(FoldReading).max(60),
  /** What voided it, or why it was not finished: one of the protocol's own words. */
  fault: z.string().max(80).nullable(),
  equipmentIds: z.array(EquipmentId).max(5),
  /** Asked "outside the usual range; keep or retype?" and kept. */
  keptUnusual: z.boolean(),
  /** Practice or official as the recorder believed, for a try that nobody saw start. */
  official: z.boolean(),
  /** Digest of a photo of a display or a loaded bar. */
  photoDigest: Digest.nullable(),
  fromPaper: FromPaper.nullable(),
})
export const DisputeReadBack = z.strictObject({ attemptId: AttemptId, studentId: StudentId, observationId: ObservationId })
export const AcknowledgeDifference = z.strictObject({ attemptId: AttemptId, studentId: StudentId })
export const AnswerPrompt = z.strictObject({
  prompt: z.enum([
    'unusualValue',
    'possibleMissedCrossing',
    'possibleDoubleTap',
    'restNotOver',
    'notBriefed',
    'lateSkinfold',
    'lookAlike',
    'twoPlaces',
    'readingCheck',
    // A device out of contact said no, by its copy of the day.
    'refusedOnDevice',
  ]),
  studentId: StudentId.nullable(),
  attemptId: AttemptId.nullable(),
  /** The sentence as it stood on the screen, in words of ours, never typed by a person. */
  shown: z.string().max(300),
  answer: z.string().min(1).max(40),
  reason: SealedText.nullable(),
})

// Events

export const AttemptStarted = z.strictObject({
  type: z.literal('attemptStarted'),
  ...StartAttempt.shape,
  /** Which of the permitted tries; 0 for practice. */
  number: z.int().nonnegative(),
  waveId: WaveId.nullable(),
  /** The newest usable reading when it was decided, so that the decision can be checked from the ledger alone. */
  readingId: ReadingId.nullable(),
  /** Out of contact the start had happened already: kept, with the reason it waits. */
  reviewId: ReviewId.nullable(),
})
export const AttemptReleased = z.strictObject({ type: z.literal('attemptReleased'), ...ReleaseAttempt.shape })
export const ResultRecorded = z.strictObject({
  type: z.literal('resultRecorded'),
  ...RecordResult.shape,
  /** First, or second witness of the same try, or extra beyond the protocol's number. */
  as: z.enum(['result', 'secondWitness', 'extra']),
  /** What had to be computed by functions whose last bit differs between engines, computed once. Percent fat in hundredths, density in 1e-7 g/mL. */
  derived: z.strictObject({ percentFatHundredths: z.int(), densityE7: z.int(), equation: z.string() }).nullable(),
  reviewId: ReviewId.nullable(),
})
export const ReadBackDisputed = z.strictObject({ type: z.literal('readBackDisputed'), ...DisputeReadBack.shape, reviewId: ReviewId })
/** Two observations of one try differ; the protocol's rule counts after this. */
export const DifferenceAcknowledged = z.strictObject({ type: z.literal('differenceAcknowledged'), ...AcknowledgeDifference.shape })
export const PromptAnswered = z.strictObject({ type: z.literal('promptAnswered'), ...AnswerPrompt.shape })
/** No score, no try used. */
export const AttemptInterrupted = z.strictObject({
  type: z.literal('attemptInterrupted'),
  attemptId: AttemptId,
  studentId: StudentId,
  stationId: StationId,
  by: z.enum(['hold', 'medicalStop', 'withdrawal']),
  holdId: HoldId.nullable(),
})
