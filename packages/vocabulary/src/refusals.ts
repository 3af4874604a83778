import type { StationId, StudentId } from './ids.ts'

export type Params = Record<string, string | number>
interface Says {
  /** The sentence on the screen; `params` are names of places and figures, never of people's health. */
  says: (p: Params) => string
  /** What to do next. */
  next: (p: Params) => string
  /** Who can resolve it. */
  who: string
}

const rule = (says: Says['says'] | string, next: Says['next'] | string, who: string): Says => ({
  says: typeof says === 'string' ? () => says : says,
  next: typeof next === 'string' ? () => next : next,
  who,
})

/** Every reason for which a day says no. A new rule does not compile until it can be said. */
export const rules = {
  alreadyOpen: rule('This day is open already.', 'Use the open day.', 'Nobody needs to'),
  notRehearsal: rule(
    'This server’s clock runs at another speed; it opens rehearsal days only.',
    'Start the server without a speed for a real day.',
    'Coordinator',
  ),
  sealed: rule('The day is sealed.', 'Late facts are kept after the seal; a supervisor may reopen with a second person.', 'Supervisor'),
  notSealed: rule('The day is not sealed.', 'Correct it in the open day.', 'Supervisor'),
  notOnRoster: rule('This student is not on today’s roster.', 'Look the code up again, or register a walk-in.', 'Supervisor'),
  alreadyOnRoster: rule('This student is on today’s roster already.', 'Check the student in.', 'Greeter'),
  noSuchStation: rule('There is no such station today.', 'Choose a station of this day.', 'Supervisor'),
  notQualified: rule(
    (p) => `${p['person']} is not listed as qualified for ${p['station']}.`,
    'A supervisor may accept with a reason.',
    'Supervisor',
  ),
  alreadyCheckedIn: rule('This student is checked in already.', 'Go on to medical.', 'Greeter'),
  notCheckedIn: rule('This student has not checked in.', 'Send the student to the kiosk.', 'Greeter'),
  withdrawn: rule('This student has withdrawn from the day.', 'Nothing is due here.', 'Supervisor'),
  bibTaken: rule((p) => `Bib ${p['bib']} is worn by another student today.`, 'Choose another bib.', 'Greeter'),
  stopped: rule(
    (p) => `A medical stop is recorded since ${p['since']}.`,
    'Send to medical. Only a screener can restore.',
    'Medical screener',
  ),
  notCleared: rule(
    (p) => (p['clearance'] === 'pending' ? `No clearance is recorded for #${p['bib']}.` : `Not cleared for ${p['station']}.`),
    'Send to medical.',
    'Medical screener',
  ),
  observerNeeded: rule((p) => `Cleared for ${p['station']} with an observer only.`, 'Name an observer before the start.', 'Station staff'),
  warmUpMissing: rule('The warm-up is not confirmed.', 'Send to the warm-up area; staff there confirm it.', 'Warm-up staff'),
  bodyMassMissing: rule('No body mass of today is recorded.', 'Send to the weigh-in desk.', 'Weigh-in desk'),
  coolDownDue: rule(
    'The cool-down lap and look-over are due.',
    'Nothing else starts until they are recorded, or excused with a reason.',
    'Track staff',
  ),
  holdInForce: rule(
    (p) => `A hold is in force in ${p['zone']} since ${p['since']}.`,
    'Stop the start. Wait until the safety officer and a second person have lifted it.',
    'Safety officer',
  ),
  noReading: rule(
    'No usable reading is recorded; heat conditions are unknown.',
    'A new reading is needed before outdoor starts.',
    'Safety officer',
  ),
  readingStale: rule(
    (p) => `The last reading is ${p['minutes']} min old.`,
    'A new reading is needed before outdoor starts.',
    'Safety officer',
  ),
  siteUnread: rule(
    'It is not certain that every reading of the site has arrived; hold state is unknown.',
    'Try again in a moment; if it stays, radio the safety officer.',
    'Safety officer',
  ),
  outOfContact: rule(
    (p) => `Hold state cannot be confirmed: no contact for ${p['minutes']} min.`,
    'Radio the safety officer and record who answered.',
    'Safety officer',
  ),
  equipmentBlocked: rule((p) => `${p['equipment']} failed its last check.`, 'Use other equipment, or pass a new check.', 'Station staff'),
  notCalledUp: rule((p) => `Not called up to ${p['station']}.`, 'Call the student up first.', 'Station staff'),
  calledElsewhere: rule((p) => `Called up to ${p['station']} now.`, 'Wait, or send the student back to the queue there.', 'Station staff'),
  otherUnderWay: rule(
    (p) => `An attempt at ${p['station']} is under way.`,
    'Look at the bib and the face. If they are right, record or release that attempt first.',
    'Station staff',
  ),
  triesUsed: rule(
    (p) => `${p['used']} of ${p['tries']} tries are used.`,
    'Nothing more starts here; a supervisor may grant a retest.',
    'Supervisor',
  ),
  restNotOver: rule(
    (p) => `Rest of ${p['minutes']} min is not over; ${p['left']} s are left.`,
    'Wait, or start early with a reason.',
    'Station staff',
  ),
  notBriefed: rule('This student has not been briefed on this test.', 'Brief now, or start with a reason.', 'Station staff'),
  loadMissing: rule('No load is set.', 'Set the load on the bar before the lift.', 'Station staff'),
  attemptExists: rule('This attempt exists already.', 'Open it.', 'Nobody needs to'),
  noSuchAttempt: rule('There is no such attempt.', 'Open the student’s record again.', 'Station staff'),
  notReleasable: rule('Something is recorded on this attempt.', 'Record its outcome; a supervisor may correct it.', 'Supervisor'),
  notArun: rule('This station is not a run.', 'Start attempts one by one.', 'Station staff'),
  waveExists: rule('This wave has started already.', 'Open it.', 'Nobody needs to'),
  noSuchWave: rule('There is no such wave.', 'Open the track screen again.', 'Track staff'),
  waveNeeded: rule('Runs start in a wave.', 'Start a wave on the track screen.', 'Track staff'),
  runnerMayNotStart: rule((p) => `#${p['bib']}: ${p['why']}`, 'Leave this runner out of the wave, or resolve it first.', 'Track staff'),
  notStopped: rule('No medical stop is in force.', 'Nothing to restore.', 'Nobody needs to'),
  onlyScreener: rule('Only a screener can restore.', 'Send to medical.', 'Medical screener'),
  noSuchReferral: rule('There is no such open referral.', 'Open the list again.', 'Medical screener'),
  noSuchHold: rule('There is no such hold in force.', 'Open the safety screen again.', 'Safety officer'),
  onlySafetyOfficer: rule('Only a safety officer proposes a lift.', 'Radio the safety officer.', 'Safety officer'),
  dispositionDue: rule(
    (p) => `${p['count']} students under way have no outcome yet.`,
    'Choose what happens to those under way first.',
    'Safety officer',
  ),
  readingOlderThanHold: rule('That reading is older than the hold.', 'Take a new settled reading.', 'Safety officer'),
  instrumentNotSettled: rule('The instrument had not settled.', 'Wait until it has settled and read again.', 'Safety officer'),
  notBelowLiftThreshold: rule((p) => `The reading is not below the value set by ${p['policy']}.`, 'Wait and read again.', 'Safety officer'),
  dwellNotOver: rule(
    (p) => `The reading was taken less than ${p['minutes']} min after the hold was raised.`,
    'Read again later.',
    'Safety officer',
  ),
  estimateCannotLift: rule('An estimate cannot lift a hold.', 'Read an instrument.', 'Safety officer'),
  readingUnusable: rule('That reading cannot be used.', 'Read again and answer its questions.', 'Safety officer'),
  latchedForSession: rule('The policy keeps a heat hold for the whole session.', 'No reading lifts it today.', 'Safety officer'),
  readingInFuture: rule('That reading lies in the future.', 'Check the clock of the device and read again.', 'Safety officer'),
  readingTooOld: rule('That reading is too old.', 'Take a new settled reading.', 'Safety officer'),
  derivedWetBulbCannotLift: rule(
    'A wet bulb derived from humidity cannot lift a hold under this policy.',
    'Read a natural wet bulb.',
    'Safety officer',
  ),
  laterReadingNotBelow: rule('A later reading is not below the value set by the policy.', 'Wait and read again.', 'Safety officer'),
  moreReadingsNeeded: rule('The policy asks for more settled readings in a row.', 'Read again.', 'Safety officer'),
  readingMissing: rule('A heat hold is lifted on a reading.', 'Take a settled reading.', 'Safety officer'),
  lightningClock: rule(
    (p) => `Last thunder or flash ${p['ago']} min ago; the policy waits ${p['minutes']} min.`,
    'Wait; each thunder or flash restarts it.',
    'Safety officer',
  ),
  observationMissing: rule('A new observation after the raise is needed.', 'Record it first.', 'Safety officer'),
  stillCallsForHold: rule('The newest observation still calls for this hold.', 'Wait and observe again.', 'Safety officer'),
  figureMissing: rule(
    'The site has set no figure for this kind of hold.',
    'Write who decided it and on what, then propose again.',
    'Safety officer',
  ),
  reasonMissing: rule('A reason is needed.', 'Write the reason.', 'Whoever asks'),
  liftNotProposed: rule('No lift is proposed.', 'The safety officer proposes it first.', 'Safety officer'),
  secondPersonSame: rule(
    'The second person must be a different one.',
    'Ask another supervisor or safety officer to confirm.',
    'Supervisor',
  ),
  secondPersonMissing: rule('A second person must agree.', 'Ask a second person for their PIN.', 'Supervisor'),
  noSuchReview: rule('There is no such open review.', 'Open the inbox again.', 'Supervisor'),
  ownReview: rule('You recorded what is under review.', 'Another supervisor rules.', 'Supervisor'),
  changedSince: rule('This was changed since you opened it.', 'Review the new version.', 'Whoever asks'),
  kindFixed: rule('The kind of try is fixed before it starts.', 'A supervisor’s correction only.', 'Supervisor'),
  afterSignOff: rule('The student is signed off.', 'From here a supervisor corrects, and a second person agrees.', 'Supervisor'),
  noRetestThere: rule(
    (p) => `The entitlement covers ${p['stations']} only.`,
    'Ask for an entitlement that covers this station.',
    'Supervisor',
  ),
  entitlementEnded: rule((p) => `The entitlement ended ${p['until']}.`, 'Ask for a new one.', 'Supervisor'),
  healthEventOpen: rule('A health event is recorded.', 'A screener must clear before anything starts.', 'Medical screener'),
  coolDownNotDue: rule('No cool-down is due.', 'Nothing to record.', 'Nobody needs to'),
  notFinished: rule(
    (p) => `${p['count']} students are not accounted for: ${p['who']}.`,
    'Record, excuse or mark each of them first.',
    'Supervisor',
  ),
  holdsOpen: rule('A hold is still open.', 'Lift it or record its disposition first.', 'Safety officer'),
  reviewsOpen: rule((p) => `${p['count']} reviews are open.`, 'Rule on them, or seal with a stated reason.', 'Supervisor'),
  notWithoutContact: rule(
    'A device out of contact does not decide this.',
    'Decide it now, on the day as it stands, with the device in contact.',
    'Whoever asks',
  ),
  unitNotOfStation: rule('That value is not in a unit of this station.', 'Enter it in the unit that the station reads.', 'Station staff'),
  notOpenYet: rule('The day is not open.', 'Open it first.', 'Coordinator'),
} as const satisfies Record<string, Says>

export type Rule = keyof typeof rules

/** A "no" that names its rule, says what to do next and who can resolve it. */
export interface Refusal {
  rule: Rule
  params: Params
  says: string
  next: string
  who: string
  studentId: StudentId | null
  stationId: StationId | null
}

export function refusal(name: Rule, params: Params = {}, about: { studentId?: StudentId; stationId?: StationId } = {}): Refusal {
  const { says, next, who } = rules[name]
  return {
    rule: name,
    params,
    says: says(params),
    next: next(params),
    who,
    studentId: about.studentId ?? null,
    stationId: about.stationId ?? null,
  }
}
