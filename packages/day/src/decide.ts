import type { ActName, ObservationAct } from '@musterbook/vocabulary/act-table'
import type { Command } from '@musterbook/vocabulary/command'
import type { DayEvent } from '@musterbook/vocabulary/events'
import type { AttemptId, StationId, StudentId } from '@musterbook/vocabulary/ids'
import type { About } from '@musterbook/vocabulary/review'
import { refusal, type Refusal } from '@musterbook/vocabulary/refusals'
import { opensReview, reviewIdOf } from './about.ts'
import { acknowledgeDifference, answerPrompt, disputeReadBack, releaseAttempt } from './attempt/acts.ts'
import { recordResult } from './attempt/record-result.ts'
import { startAttempt } from './attempt/start-attempt.ts'
import { bindBib, changeNormGroup, checkIn, markAbsent, walkIn, withdraw } from './check-in/check-in.ts'
import { confirmWarmUp, recordClearance, weigh, withdrawClearance } from './clearance/clearance.ts'
import type { Day } from './day.ts'
import type { Decision, Now, Observe, Permit } from './decision.ts'
import {
  acknowledgeHold,
  noteHeardByRadio,
  confirmByRadio,
  confirmLift,
  disposeHold,
  observeHazard,
  proposeLift,
  seeAtHeadcount,
  takeHeadcount,
} from './hold/hold.ts'
import { raiseHold } from './hold/raise-hold.ts'
import { assignStaff, briefClass, checkEquipment, openDay, releaseStaff } from './opening/opening.ts'
import { callUp, joinQueue, leaveQueue, sendBack } from './queue/queue.ts'
import { confirmCoolDown, correct, excuseCoolDown, grantRetest, rule, signOffStudent } from './review/review.ts'
import { inferLap, recordCrossing, takeBackCrossing, takeOverWave } from './run/crossings.ts'
import { startWave } from './run/start-wave.ts'
import { reopen, sealDay } from './seal/seal.ts'
import {
  answerCall,
  answerReferral,
  answerStop,
  callStaff,
  nameStopper,
  refer,
  reportHealthEvent,
  restore,
  stopStudent,
} from './stop/stop.ts'

const permissions = {
  openDay,
  assignStaff,
  briefClass,
  checkIn,
  bindBib,
  walkIn,
  markAbsent,
  changeNormGroup,
  recordClearance,
  withdrawClearance,
  confirmWarmUp,
  joinQueue,
  leaveQueue,
  callUp,
  sendBack,
  startAttempt,
  releaseAttempt,
  acknowledgeDifference,
  startWave,
  inferLap,
  answerReferral,
  restore,
  disposeHold,
  proposeLift,
  confirmLift,
  rule,
  correct,
  grantRetest,
  confirmCoolDown,
  excuseCoolDown,
  signOffStudent,
  sealDay,
  reopen,
} as const satisfies { [A in ActName]?: Permit<A> }

const observes = {
  releaseStaff,
  checkEquipment,
  withdraw,
  weigh,
  recordResult,
  disputeReadBack,
  answerPrompt,
  recordCrossing,
  takeOverWave,
  takeBackCrossing,
  stopStudent,
  nameStopper,
  answerStop,
  refer,
  reportHealthEvent,
  callStaff,
  answerCall,
  raiseHold,
  acknowledgeHold,
  noteHeardByRadio,
  observeHazard,
  confirmByRadio,
  takeHeadcount,
  seeAtHeadcount,
} as const satisfies { [A in ObservationAct]: Observe<A> }

/** After the seal these may still be asked; everything else waits for a reopening, and nothing starts any more. */
const afterSeal: readonly ActName[] = ['reopen', 'correct', 'rule', 'grantRetest', 'changeNormGroup', 'answerReferral']
const starts: readonly ActName[] = ['startAttempt', 'startWave', 'callUp']

/** What a device out of contact decides never: told later, it is asked for as on any day, and no older picture decides it. */
export const neverOnDevice: readonly ActName[] = [
  'recordClearance',
  'restore',
  'answerReferral',
  'proposeLift',
  'confirmLift',
  'rule',
  'correct',
  'changeNormGroup',
  'grantRetest',
  'sealDay',
  'reopen',
]

/** What the day says to one command. A refusal is written down too. */
export function decide(command: Command, day: Day, now: Now): Decision {
  const { act, envelope } = command
  if (!day.opened && act !== 'openDay') return said(command, refusal('notOpenYet'))
  const keeps = (observes as Partial<Record<ActName, Observe<ActName>>>)[act]
  if (keeps) return kept(command, day, keeps(command as never, day, now).events)
  const permits = (permissions as Partial<Record<ActName, Permit<ActName>>>)[act]
  if (!permits) throw new Error(`no rule decides ${act}`)
  // A start that a device out of contact has let happen is an observation by now.
  const hasHappened = envelope.decidedOnDevice && (act === 'startAttempt' || act === 'startWave')
  if (day.sealed && !hasHappened && (day.reopened ? starts : everythingBut(afterSeal)).includes(act))
    return said(command, refusal('sealed'))
  if (envelope.decidedOnDevice && neverOnDevice.includes(act) && !isStricter(command)) return said(command, refusal('notWithoutContact'))
  const answer = permits(command as never, day, now)
  if ('refused' in answer) return said(command, answer.refused)
  return hasHappened ? kept(command, day, answer.events) : { events: answer.events }
}

/** Not today is no permission: it stands from whenever it was said. */
const isStricter = ({ act, body }: Command): boolean => act === 'recordClearance' && 'status' in body && body.status === 'notToday'

const everythingBut = (these: readonly ActName[]): readonly ActName[] =>
  (Object.keys(permissions) as ActName[]).filter((act) => !these.includes(act))

function said({ act }: Command, no: Refusal): Decision {
  return {
    refused: no,
    events: [{ type: 'actRefused', act, rule: no.rule, params: no.params, studentId: no.studentId, stationId: no.stationId }],
  }
}

/** What counts only by a ruling when it is told after the seal, or of somebody whom the day does not know: kept, and shown. */
function kept({ act, envelope, body }: Command, day: Day, events: readonly DayEvent[]): Decision {
  const about = body as { studentId?: StudentId | null; attemptId?: AttemptId; stationId?: StationId }
  const isStranger = about.studentId !== undefined && about.studentId !== null && !day.students.has(about.studentId)
  const isLate = day.sealed !== null && measuring.includes(act)
  const asked = events.filter((event) => event.type === 'reviewOpened')
  if (!isLate && (!isStranger || asked.length > 0)) return { events }
  const where = { studentId: about.studentId ?? null, attemptId: about.attemptId ?? null, stationId: about.stationId ?? null }
  const told = attemptsTold(events)
  const places = told.length > 0 ? told : [where]
  const because = isStranger ? 'unreadable' : 'lateAfterSeal'
  const more = places.map((place, index) => opensReview(reviewIdOf(envelope.commandId, asked.length + index + 1), because, place))
  return { events: [...events, ...more] }
}

const measuring: readonly ActName[] = [
  'recordResult',
  'recordCrossing',
  'takeBackCrossing',
  'weigh',
  'checkEquipment',
  'startAttempt',
  'startWave',
]

/** The tries that these events touch: what is said late of them makes each of them wait. */
function attemptsTold(events: readonly DayEvent[]): Partial<About>[] {
  return events.flatMap((event): Partial<About>[] => {
    if (event.type !== 'attemptStarted' && event.type !== 'resultRecorded' && event.type !== 'finishRecorded') return []
    const stationId = event.type === 'finishRecorded' ? null : event.stationId
    return [{ studentId: event.studentId, attemptId: event.attemptId, stationId }]
  })
}

/** Compiles only while every act of the vocabulary is decided exactly once. */
export type Undecided = Exclude<ActName, keyof typeof permissions | keyof typeof observes>
const _everyActIsDecided: [Undecided] extends [never] ? true : never = true
void _everyActIsDecided
