import { z } from 'zod'
import { FromPaper } from './attempt.ts'
import { AttemptId, HoldId, ObservationId, PersonId, ReviewId, StationId, StudentId, WaveId } from './ids.ts'

// Acts

/** A mass start. All who may start do; the wave is refused whole when one may not, and says who and why. */
export const StartWave = z.strictObject({
  waveId: WaveId,
  stationId: StationId,
  runners: z
    .array(z.strictObject({ studentId: StudentId, attemptId: AttemptId }))
    .min(1)
    .max(60),
  official: z.boolean(),
  /** Absent where the gun was a touch. */
  fromPaper: FromPaper.optional(),
})
/** One tap as a runner passes the line. The finish is a fact of its own. */
export const RecordCrossing = z.strictObject({
  observationId: ObservationId,
  waveId: WaveId,
  studentId: StudentId,
  line: z.enum(['lap', 'finish']),
  /** Absent where somebody touched a key as it happened. */
  fromPaper: FromPaper.optional(),
})
/** A person says that a crossing was missed; it is labelled as inferred for ever. */
export const InferLap = z.strictObject({
  observationId: ObservationId,
  waveId: WaveId,
  studentId: StudentId,
  /** Since the gun, ms. */
  elapsedMs: z.int().positive(),
  witnessId: PersonId.nullable(),
})
/** Another tablet carries on a wave that is out: same gun, same laps. What the one before still keeps is paired when it comes. */
export const TakeOverWave = z.strictObject({ waveId: WaveId })
/** Touched in error, the wrong runner's key most of all. The tap stays, and is none of a lap any more. */
export const TakeBackCrossing = z.strictObject({ observationId: ObservationId, waveId: WaveId, studentId: StudentId })

// Events

export const WaveStarted = z.strictObject({
  type: z.literal('waveStarted'),
  waveId: WaveId,
  stationId: StationId,
  studentIds: z.array(StudentId),
  official: z.boolean(),
  /** The gun and a hold could not be ordered: the hold governs, nothing counts, a disposition is due. */
  underHold: HoldId.nullable(),
  fromPaper: FromPaper.optional(),
})
export const CrossingRecorded = z.strictObject({
  type: z.literal('crossingRecorded'),
  ...RecordCrossing.shape,
  elapsedMs: z.int(),
  /** null when it counts as a lap. An ignored tap stays visible. */
  ignored: z.enum(['underMinimumLap', 'afterFinish', 'notRunning', 'secondWitness', 'unpaired']).nullable(),
})
export const WaveTakenOver = z.strictObject({ type: z.literal('waveTakenOver'), waveId: WaveId })
export const CrossingTakenBack = z.strictObject({ type: z.literal('crossingTakenBack'), ...TakeBackCrossing.shape })
export const LapInferred = z.strictObject({ type: z.literal('lapInferred'), ...InferLap.shape })
export const FinishRecorded = z.strictObject({
  type: z.literal('finishRecorded'),
  waveId: WaveId,
  studentId: StudentId,
  attemptId: AttemptId,
  elapsedMs: z.int(),
  /** Crossings that count, the finish among them. Fewer than the protocol asks: withheld, a review is open. */
  laps: z.int().nonnegative(),
  reviewId: ReviewId.nullable(),
})
