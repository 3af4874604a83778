import { z } from 'zod'
import { ClearanceId, EquipmentId, StationId, StudentId } from './ids.ts'
import { Measured } from './measured.ts'

/** A condition that a gate can apply without anyone knowing why. */
export const Limit = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('notAtStation'), stationId: StationId }),
  z.strictObject({ kind: z.literal('noMaximalLift') }),
  z.strictObject({ kind: z.literal('walkOnly') }),
  z.strictObject({ kind: z.literal('withObserver') }),
])
export type Limit = z.infer<typeof Limit>
export const ClearanceStatus = z.enum(['pending', 'cleared', 'limited', 'notToday', 'withdrawn'])
export type ClearanceStatus = z.infer<typeof ClearanceStatus>

// Acts

export const RecordClearance = z.strictObject({
  clearanceId: ClearanceId,
  studentId: StudentId,
  status: z.enum(['cleared', 'limited', 'notToday']),
  limits: z.array(Limit).max(20),
  /** The clearance that the screener saw when deciding; null when none stood. A mismatch is a conflict: both stand, the stricter governs. */
  supersedes: ClearanceId.nullable(),
})
export const WithdrawClearance = z.strictObject({ clearanceId: ClearanceId, studentId: StudentId })
export const Weigh = z.strictObject({ studentId: StudentId, mass: Measured, scaleId: EquipmentId, keptUnusual: z.boolean() })
export const ConfirmWarmUp = z.strictObject({ studentIds: z.array(StudentId).min(1).max(120) })

// Events

export const ClearanceRecorded = z.strictObject({
  type: z.literal('clearanceRecorded'),
  ...RecordClearance.shape,
  /** Clearances that another screener recorded unseen: they stand beside this one until settled. */
  conflictsWith: z.array(ClearanceId),
})
export const ClearanceWithdrawn = z.strictObject({ type: z.literal('clearanceWithdrawn'), ...WithdrawClearance.shape })
export const Weighed = z.strictObject({
  type: z.literal('weighed'),
  ...Weigh.shape,
  /** After an effort: sweat loss shifts the ratio. */
  afterEffort: z.boolean(),
})
export const WarmUpConfirmed = z.strictObject({ type: z.literal('warmUpConfirmed'), studentId: StudentId })
