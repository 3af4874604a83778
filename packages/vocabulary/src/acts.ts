import type { z } from 'zod'
import * as attempt from './attempt.ts'
import * as checkIn from './check-in.ts'
import * as clearance from './clearance.ts'
import * as hold from './hold.ts'
import * as opening from './opening.ts'
import type { Role } from './people.ts'
import * as queue from './queue.ts'
import * as review from './review.ts'
import * as run from './run.ts'
import * as seal from './seal.ts'
import * as stop from './stop.ts'

interface Act<Body extends z.ZodType> {
  body: Body
  /** `POST /api/days/:dayId/<noun>`: a route is a noun. */
  noun: string
  /** Which roles may do it. Reading a refusal for want of a role is an `access/` event, not the day's. */
  roles: readonly Role[]
  /** Names of body fields that hold free text: sealed by the gateway before the command goes on. */
  texts: readonly string[]
  /** A second, different person must agree with their own PIN. `ifMoved`: the core says when a result moves. */
  countersign: 'never' | 'always' | 'mayBe'
}

const act = <Body extends z.ZodType>(
  noun: string,
  body: Body,
  roles: readonly Role[],
  more: { texts?: readonly string[]; countersign?: 'always' | 'mayBe' } = {},
): Act<Body> => ({ body, noun, roles, texts: more.texts ?? [], countersign: more.countersign ?? 'never' })

/** Everyone who works on the floor with a PIN. */
const staff: readonly Role[] = ['greeter', 'screener', 'station', 'safety', 'supervisor', 'coordinator']
const lead: readonly Role[] = ['supervisor', 'coordinator']

/** Which role may do which act: the one table. */
export const acts = {
  openDay: act('opening', opening.OpenDay, lead),
  assignStaff: act('assignments', opening.AssignStaff, lead, { texts: ['acceptedBecause'] }),
  releaseStaff: act('assignment-releases', opening.ReleaseStaff, lead),
  checkEquipment: act('equipment-checks', opening.CheckEquipment, ['station', 'safety', 'screener', 'supervisor', 'coordinator']),
  briefClass: act('briefings', opening.BriefClass, ['station', 'supervisor', 'coordinator']),

  checkIn: act('check-ins', checkIn.CheckIn, ['kiosk', 'greeter', 'supervisor', 'coordinator']),
  bindBib: act('bibs', checkIn.BindBib, ['kiosk', 'greeter', 'supervisor', 'coordinator']),
  walkIn: act('walk-ins', checkIn.WalkIn, lead),
  markAbsent: act('absences', checkIn.MarkAbsent, ['greeter', 'supervisor', 'coordinator']),
  withdraw: act('withdrawals', checkIn.Withdraw, staff),
  changeNormGroup: act('norm-groups', checkIn.ChangeNormGroup, ['coordinator'], { texts: ['reason'], countersign: 'always' }),

  recordClearance: act('clearances', clearance.RecordClearance, ['screener']),
  withdrawClearance: act('clearance-withdrawals', clearance.WithdrawClearance, ['screener']),
  weigh: act('weigh-ins', clearance.Weigh, ['screener', 'station', 'supervisor']),
  confirmWarmUp: act('warm-ups', clearance.ConfirmWarmUp, ['greeter', 'station', 'supervisor']),

  joinQueue: act('queue-places', queue.JoinQueue, ['kiosk', 'greeter', 'station', 'supervisor']),
  leaveQueue: act('queue-departures', queue.LeaveQueue, ['greeter', 'station', 'supervisor']),
  callUp: act('call-ups', queue.CallUp, ['station', 'supervisor']),
  sendBack: act('returns-to-queue', queue.SendBack, ['station', 'supervisor']),

  startAttempt: act('attempts', attempt.StartAttempt, ['station', 'supervisor'], { texts: ['earlyBecause'] }),
  releaseAttempt: act('attempt-releases', attempt.ReleaseAttempt, ['station', 'supervisor']),
  recordResult: act('results', attempt.RecordResult, ['station', 'supervisor']),
  disputeReadBack: act('read-back-disputes', attempt.DisputeReadBack, ['station', 'supervisor']),
  acknowledgeDifference: act('difference-acknowledgements', attempt.AcknowledgeDifference, ['station', 'supervisor']),
  answerPrompt: act(
    'prompt-answers',
    attempt.AnswerPrompt,
    ['kiosk', 'greeter', 'screener', 'station', 'safety', 'supervisor', 'coordinator'],
    { texts: ['reason'] },
  ),

  startWave: act('waves', run.StartWave, ['station', 'supervisor']),
  recordCrossing: act('crossings', run.RecordCrossing, ['station', 'supervisor']),
  takeBackCrossing: act('crossings-taken-back', run.TakeBackCrossing, ['station', 'supervisor']),
  inferLap: act('inferred-laps', run.InferLap, ['station', 'supervisor']),

  stopStudent: act('stops', stop.StopStudent, [...staff, 'device']),
  nameStopper: act('stop-namings', stop.NameStopper, staff),
  answerStop: act('stop-answers', stop.AnswerStop, ['screener', 'safety', 'supervisor']),
  refer: act('referrals', stop.Refer, staff),
  answerReferral: act('referral-answers', stop.AnswerReferral, ['screener']),
  restore: act('restorations', stop.Restore, ['screener']),
  callStaff: act('calls', stop.CallStaff, ['kiosk', ...staff, 'device']),
  answerCall: act('call-answers', stop.AnswerCall, staff),
  reportHealthEvent: act('health-events', stop.ReportHealthEvent, ['screener', 'supervisor', 'coordinator'], { texts: ['words'] }),

  raiseHold: act('holds', hold.RaiseHold, [...staff, 'device']),
  acknowledgeHold: act('hold-acknowledgements', hold.AcknowledgeHold, [...staff, 'device']),
  disposeHold: act('hold-dispositions', hold.DisposeHold, ['safety', 'supervisor']),
  observeHazard: act('hazards', hold.ObserveHazard, staff),
  proposeLift: act('lift-proposals', hold.ProposeLift, ['safety'], { texts: ['reason'] }),
  confirmLift: act('lift-confirmations', hold.ConfirmLift, ['safety', 'supervisor', 'coordinator']),
  confirmByRadio: act('radio-confirmations', hold.ConfirmByRadio, ['station', 'safety', 'supervisor'], { texts: ['words'] }),
  takeHeadcount: act('headcounts', hold.TakeHeadcount, ['station', 'safety', 'supervisor']),

  rule: act('rulings', review.Rule, ['supervisor'], { texts: ['reason'] }),
  correct: act('corrections', review.Correct, ['station', 'supervisor'], { texts: ['reason'], countersign: 'mayBe' }),
  grantRetest: act('retests', review.GrantRetest, lead, { texts: ['reason'] }),
  confirmCoolDown: act('cool-downs', review.ConfirmCoolDown, ['station', 'screener', 'safety', 'supervisor']),
  excuseCoolDown: act('cool-down-excuses', review.ExcuseCoolDown, ['screener', 'safety', 'supervisor'], { texts: ['reason'] }),
  signOffStudent: act('sign-offs', review.SignOffStudent, ['station', 'supervisor']),

  sealDay: act('seal', seal.SealDay, ['supervisor'], { texts: ['acceptOpenReviews'] }),
  reopen: act('reopenings', seal.Reopen, ['supervisor'], { texts: ['reason'], countersign: 'always' }),
} as const

export type ActName = keyof typeof acts
export type BodyOf<A extends ActName> = z.infer<(typeof acts)[A]['body']>

/** Acts that tell of what already happened: never refused, so a screen may keep them until the site is heard again. */
export const observations = [
  'releaseStaff',
  'checkEquipment',
  'withdraw',
  'weigh',
  'recordResult',
  'disputeReadBack',
  'answerPrompt',
  'recordCrossing',
  'takeBackCrossing',
  'stopStudent',
  'nameStopper',
  'answerStop',
  'refer',
  'reportHealthEvent',
  'callStaff',
  'answerCall',
  'raiseHold',
  'acknowledgeHold',
  'observeHazard',
  'confirmByRadio',
  'takeHeadcount',
] as const satisfies readonly ActName[]
export type ObservationAct = (typeof observations)[number]
