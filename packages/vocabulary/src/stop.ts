import { z } from 'zod'
import { AttemptId, CommandId, DeviceId, ObservationId, PersonId, ReferralId, StudentId, ZoneId } from './ids.ts'
import { SealedText } from './people.ts'

// Acts

/** Anyone on staff, from any staff screen, a locked enrolled device too. No diagnosis. */
export const StopStudent = z.strictObject({
  studentId: StudentId,
  zoneId: ZoneId.nullable(),
  reason: z.enum(['unwell', 'hurt', 'asked', 'notSaid']),
})
/** A locked device stopped somebody; afterwards the person says who they were. */
export const NameStopper = z.strictObject({ studentId: StudentId, stopCommandId: CommandId, personId: PersonId })
export const Refer = z.strictObject({ referralId: ReferralId, studentId: StudentId, to: z.enum(['screener', 'clinician', 'ambulance']) })
export const AnswerReferral = z.strictObject({
  referralId: ReferralId,
  studentId: StudentId,
  outcome: z.enum(['cleared', 'limited', 'notToday']),
})
export const Restore = z.strictObject({ studentId: StudentId })
/** Safety or medical has heard of a stop, or has arrived. */
export const AnswerStop = z.strictObject({ studentId: StudentId, answer: z.enum(['acknowledged', 'arrived']) })
/** Days later too: it blocks retests until a screener clears. */
export const ReportHealthEvent = z.strictObject({ studentId: StudentId, words: SealedText.nullable() })
/** From the kiosk or the public board: somebody there wants a person. */
export const CallStaff = z.strictObject({ callId: ObservationId })
export const AnswerCall = z.strictObject({ callId: ObservationId })

// Events

export const StudentStopped = z.strictObject({ type: z.literal('studentStopped'), ...StopStudent.shape, attemptId: AttemptId.nullable() })
export const StopperNamed = z.strictObject({ type: z.literal('stopperNamed'), ...NameStopper.shape })
export const StudentReferred = z.strictObject({ type: z.literal('studentReferred'), ...Refer.shape })
export const ReferralAnswered = z.strictObject({ type: z.literal('referralAnswered'), ...AnswerReferral.shape })
export const StudentRestored = z.strictObject({ type: z.literal('studentRestored'), ...Restore.shape })
export const StopAnswered = z.strictObject({ type: z.literal('stopAnswered'), ...AnswerStop.shape })
export const HealthEventReported = z.strictObject({ type: z.literal('healthEventReported'), ...ReportHealthEvent.shape })
export const StaffCalled = z.strictObject({ type: z.literal('staffCalled'), ...CallStaff.shape, deviceId: DeviceId })
export const CallAnswered = z.strictObject({ type: z.literal('callAnswered'), ...AnswerCall.shape })
