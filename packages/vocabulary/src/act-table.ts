import type { Role } from './people.ts'

/** What of an act the screens know as well: no schema, so that a tablet does not load a parser to press a button. */
export interface Act {
  /** `POST /api/days/:dayId/<noun>`: a route is a noun. */
  noun: string
  /** Which roles may do it. Reading a refusal for want of a role is an `access/` event, not the day's. */
  roles: readonly Role[]
  /** Names of body fields that hold free text: sealed by the gateway before the command goes on. */
  texts: readonly string[]
  /** A second, different person must agree with their own PIN; `mayBe`: the core says when. */
  countersign: 'never' | 'always' | 'mayBe'
}

const act = (noun: string, roles: readonly Role[], more: { texts?: readonly string[]; countersign?: 'always' | 'mayBe' } = {}): Act => ({
  noun,
  roles,
  texts: more.texts ?? [],
  countersign: more.countersign ?? 'never',
})

/** Everyone who works on the floor with a PIN. */
const staff: readonly Role[] = ['greeter', 'screener', 'station', 'safety', 'supervisor', 'coordinator']
const lead: readonly Role[] = ['supervisor', 'coordinator']

/** Which role may do which act: the one table. */
export const actTable = {
  openDay: act('opening', lead),
  assignStaff: act('assignments', lead, { texts: ['acceptedBecause'] }),
  releaseStaff: act('assignment-releases', lead),
  checkEquipment: act('equipment-checks', ['station', 'safety', 'screener', 'supervisor', 'coordinator']),
  briefClass: act('briefings', ['station', 'supervisor', 'coordinator']),

  checkIn: act('check-ins', ['kiosk', 'greeter', 'supervisor', 'coordinator']),
  bindBib: act('bibs', ['kiosk', 'greeter', 'supervisor', 'coordinator']),
  walkIn: act('walk-ins', lead),
  markAbsent: act('absences', ['greeter', 'supervisor', 'coordinator']),
  withdraw: act('withdrawals', staff),
  changeNormGroup: act('norm-groups', ['coordinator'], { texts: ['reason'], countersign: 'always' }),

  recordClearance: act('clearances', ['screener']),
  withdrawClearance: act('clearance-withdrawals', ['screener']),
  weigh: act('weigh-ins', ['screener', 'station', 'supervisor']),
  confirmWarmUp: act('warm-ups', ['greeter', 'station', 'supervisor']),

  joinQueue: act('queue-places', ['kiosk', 'greeter', 'station', 'supervisor']),
  leaveQueue: act('queue-departures', ['greeter', 'station', 'supervisor']),
  callUp: act('call-ups', ['station', 'supervisor']),
  sendBack: act('returns-to-queue', ['station', 'supervisor']),

  startAttempt: act('attempts', ['station', 'supervisor'], { texts: ['earlyBecause'] }),
  releaseAttempt: act('attempt-releases', ['station', 'supervisor']),
  recordResult: act('results', ['station', 'supervisor']),
  disputeReadBack: act('read-back-disputes', ['station', 'supervisor']),
  acknowledgeDifference: act('difference-acknowledgements', ['station', 'supervisor']),
  answerPrompt: act('prompt-answers', ['kiosk', 'greeter', 'screener', 'station', 'safety', 'supervisor', 'coordinator'], {
    texts: ['reason'],
  }),

  startWave: act('waves', ['station', 'supervisor']),
  recordCrossing: act('crossings', ['station', 'supervisor']),
  takeOverWave: act('wave-takeovers', ['station', 'supervisor']),
  takeBackCrossing: act('crossings-taken-back', ['station', 'supervisor']),
  inferLap: act('inferred-laps', ['station', 'supervisor']),

  stopStudent: act('stops', [...staff, 'device']),
  nameStopper: act('stop-namings', staff),
  answerStop: act('stop-answers', ['screener', 'safety', 'supervisor']),
  refer: act('referrals', staff),
  answerReferral: act('referral-answers', ['screener']),
  restore: act('restorations', ['screener']),
  callStaff: act('calls', ['kiosk', ...staff, 'device']),
  answerCall: act('call-answers', staff),
  reportHealthEvent: act('health-events', ['screener', 'supervisor', 'coordinator'], { texts: ['words'] }),

  raiseHold: act('holds', [...staff, 'device']),
  acknowledgeHold: act('hold-acknowledgements', [...staff, 'device']),
  noteHeardByRadio: act('holds-heard-by-radio', ['safety', 'supervisor'], { texts: ['words'] }),
  disposeHold: act('hold-dispositions', ['safety', 'supervisor']),
  observeHazard: act('hazards', staff),
  proposeLift: act('lift-proposals', ['safety'], { texts: ['reason'] }),
  confirmLift: act('lift-confirmations', ['safety', 'supervisor', 'coordinator']),
  confirmByRadio: act('radio-confirmations', ['station', 'safety', 'supervisor'], { texts: ['words'] }),
  takeHeadcount: act('headcounts', ['station', 'safety', 'supervisor']),
  seeAtHeadcount: act('headcount-marks', ['station', 'safety', 'supervisor']),

  rule: act('rulings', ['supervisor'], { texts: ['reason'] }),
  correct: act('corrections', ['station', 'supervisor'], { texts: ['reason'], countersign: 'mayBe' }),
  grantRetest: act('retests', lead, { texts: ['reason'] }),
  confirmCoolDown: act('cool-downs', ['station', 'screener', 'safety', 'supervisor']),
  excuseCoolDown: act('cool-down-excuses', ['screener', 'safety', 'supervisor'], { texts: ['reason'] }),
  signOffStudent: act('sign-offs', ['station', 'supervisor']),

  sealDay: act('seal', ['supervisor'], { texts: ['acceptOpenReviews'] }),
  reopen: act('reopenings', ['supervisor'], { texts: ['reason'], countersign: 'always' }),
} as const satisfies Record<string, Act>

export type ActName = keyof typeof actTable

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
  'takeOverWave',
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
  'noteHeardByRadio',
  'observeHazard',
  'confirmByRadio',
  'takeHeadcount',
  'seeAtHeadcount',
] as const satisfies readonly ActName[]
export type ObservationAct = (typeof observations)[number]
