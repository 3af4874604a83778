import type { z } from 'zod'
import { actTable, type Act, type ActName } from './act-table.ts'
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

/** What each act carries. */
const bodies = {
  openDay: opening.OpenDay,
  assignStaff: opening.AssignStaff,
  releaseStaff: opening.ReleaseStaff,
  checkEquipment: opening.CheckEquipment,
  briefClass: opening.BriefClass,
  checkIn: checkIn.CheckIn,
  bindBib: checkIn.BindBib,
  walkIn: checkIn.WalkIn,
  markAbsent: checkIn.MarkAbsent,
  withdraw: checkIn.Withdraw,
  changeNormGroup: checkIn.ChangeNormGroup,
  recordClearance: clearance.RecordClearance,
  withdrawClearance: clearance.WithdrawClearance,
  weigh: clearance.Weigh,
  confirmWarmUp: clearance.ConfirmWarmUp,
  joinQueue: queue.JoinQueue,
  leaveQueue: queue.LeaveQueue,
  callUp: queue.CallUp,
  sendBack: queue.SendBack,
  startAttempt: attempt.StartAttempt,
  releaseAttempt: attempt.ReleaseAttempt,
  recordResult: attempt.RecordResult,
  disputeReadBack: attempt.DisputeReadBack,
  acknowledgeDifference: attempt.AcknowledgeDifference,
  answerPrompt: attempt.AnswerPrompt,
  startWave: run.StartWave,
  recordCrossing: run.RecordCrossing,
  takeOverWave: run.TakeOverWave,
  takeBackCrossing: run.TakeBackCrossing,
  inferLap: run.InferLap,
  stopStudent: stop.StopStudent,
  nameStopper: stop.NameStopper,
  answerStop: stop.AnswerStop,
  refer: stop.Refer,
  answerReferral: stop.AnswerReferral,
  restore: stop.Restore,
  callStaff: stop.CallStaff,
  answerCall: stop.AnswerCall,
  reportHealthEvent: stop.ReportHealthEvent,
  raiseHold: hold.RaiseHold,
  acknowledgeHold: hold.AcknowledgeHold,
  noteHeardByRadio: hold.NoteHeardByRadio,
  disposeHold: hold.DisposeHold,
  observeHazard: hold.ObserveHazard,
  proposeLift: hold.ProposeLift,
  confirmLift: hold.ConfirmLift,
  confirmByRadio: hold.ConfirmByRadio,
  takeHeadcount: hold.TakeHeadcount,
  seeAtHeadcount: hold.SeeAtHeadcount,
  rule: review.Rule,
  correct: review.Correct,
  grantRetest: review.GrantRetest,
  confirmCoolDown: review.ConfirmCoolDown,
  excuseCoolDown: review.ExcuseCoolDown,
  signOffStudent: review.SignOffStudent,
  sealDay: seal.SealDay,
  reopen: seal.Reopen,
} as const satisfies Record<ActName, z.ZodType>

/** The table of acts, each with the schema of its body. */
export const acts = Object.fromEntries(Object.entries(bodies).map(([name, body]) => [name, { ...actTable[name as ActName], body }])) as {
  [A in ActName]: Act & { body: (typeof bodies)[A] }
}

export type BodyOf<A extends ActName> = z.infer<(typeof bodies)[A]>
