import { z } from 'zod'
import * as attempt from './attempt.ts'
import * as checkIn from './check-in.ts'
import * as clearance from './clearance.ts'
import * as hold from './hold.ts'
import * as opening from './opening.ts'
import * as queue from './queue.ts'
import * as review from './review.ts'
import * as run from './run.ts'
import * as seal from './seal.ts'
import * as stop from './stop.ts'

/** Everything that a day's stream, and what comes after its seal, may hold. */
export const DayEvent = z.discriminatedUnion('type', [
  opening.DayOpened,
  opening.StudentExpected,
  opening.StaffAssigned,
  opening.StaffReleased,
  opening.EquipmentChecked,
  opening.ClassBriefed,
  checkIn.CheckedIn,
  checkIn.BibBound,
  checkIn.StudentAbsent,
  checkIn.StudentWithdrew,
  checkIn.NormGroupChanged,
  clearance.ClearanceRecorded,
  clearance.ClearanceWithdrawn,
  clearance.Weighed,
  clearance.WarmUpConfirmed,
  queue.QueueJoined,
  queue.QueueLeft,
  queue.CalledUp,
  queue.SentBack,
  attempt.AttemptStarted,
  attempt.AttemptReleased,
  attempt.ResultRecorded,
  attempt.ReadBackDisputed,
  attempt.DifferenceAcknowledged,
  attempt.PromptAnswered,
  attempt.AttemptInterrupted,
  run.WaveStarted,
  run.CrossingRecorded,
  run.WaveTakenOver,
  run.CrossingTakenBack,
  run.LapInferred,
  run.FinishRecorded,
  stop.StudentStopped,
  stop.StopperNamed,
  stop.StudentReferred,
  stop.ReferralAnswered,
  stop.StudentRestored,
  stop.StopAnswered,
  stop.HealthEventReported,
  stop.StaffCalled,
  stop.CallAnswered,
  hold.ReadingReceived,
  hold.HoldRaised,
  hold.HoldAcknowledged,
  hold.HoldHeardByRadio,
  hold.HoldDisposed,
  hold.HazardObserved,
  hold.LiftProposed,
  hold.HoldLifted,
  hold.RadioConfirmed,
  hold.HeadcountTaken,
  hold.SeenAtHeadcount,
  review.ReviewOpened,
  review.ReviewRuled,
  review.ReviewSettled,
  review.Corrected,
  review.RetestGranted,
  review.CoolDownConfirmed,
  review.CoolDownExcused,
  review.StudentSignedOff,
  seal.DaySealed,
  seal.AfterOpened,
  seal.Reopened,
  seal.ActRefused,
])
export type DayEvent = z.infer<typeof DayEvent>
export type DayEventOf<T extends DayEvent['type']> = Extract<DayEvent, { type: T }>
