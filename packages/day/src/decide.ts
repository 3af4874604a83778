import type { ActName, ObservationAct } from '@musterbook/vocabulary/acts'
import type { Command } from '@musterbook/vocabulary/command'
import type { DayEvent } from '@musterbook/vocabulary/events'
import type { AttemptId, StationId, StudentId } from '@musterbook/vocabulary/ids'
import { refusal, type Refusal } from '@musterbook/vocabulary/refusals'
import { opensReview, reviewIdOf } from './about.ts'
import { acknowledgeDifference, answerPrompt, disputeReadBack, releaseAttempt } from './attempt/acts.ts'
import { recordResult } from './attempt/record-result.ts'
import { startAttempt } from './attempt/start-attempt.ts'
import { bindBib, changeNormGroup, checkIn, markAbsent, walkIn, withdraw } from './check-in/check-in.ts'
import { confirmWarmUp, recordClearance, weigh, withdrawClearance } from './clearance/clearance.ts'
import type { Day } from './day.ts'
import type { Decision, Now, Observe, Permit } from './decision.ts'
import { acknowledgeHold, confirmByRadio, confirmLift, disposeHold, observeHazard, proposeLift, takeHeadcount } from './hold/hold.ts'
import { raiseHold } from './hold/raise-hold.ts'
import { assignStaff, briefClass, checkEquipment, openDay, releaseStaff } from './opening/opening.ts'
import { callUp, joinQueue, leaveQueue, sendBack } from './queue/queue.ts'
import { confirmCoolDown, correct, excuseCoolDown, grantRetest, rule, signOffStudent } from './review/review.ts'
import { inferLap, recordCrossing } from './run/crossings.ts'
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
  stopStudent,
  nameStopper,
  answerStop,
  refer,
  reportHealthEvent,
  callStaff,
  answerCall,
  raiseHold,
  acknowledgeHold,
  observeHazard,
  confirmByRadio,
  takeHeadcount,
} as const satisfies { [A in ObservationAct]: Observe<A> }

/** After the seal these may still be asked; everything else waits for a reopening. */
const afterSeal: readonly ActName[] = ['reopen', 'correct', 'rule', 'grantRetest', 'changeNormGroup', 'answerReferral']

/** What the day says to one command. A refusal is written down too. */
export function decide(command: Command, day: Day, now: Now): Decision {
  const keeps = (observes as Partial<Record<ActName, Observe<ActName>>>)[command.act]
  if (!day.opened && command.act !== 'openDay') return said(command, refusal('notOpenYet'))
  if (keeps) return kept(command, day, keeps(command as never, day, now).events)
  if (day.sealed && !day.reopened && !afterSeal.includes(command.act)) return said(command, refusal('sealed'))
  const permits = (permissions as Partial<Record<ActName, Permit<ActName>>>)[command.act]
  if (!permits) throw new Error(`no rule decides ${command.act}`)
  const answer = permits(command as never, day, now)
  return 'refused' in answer ? said(command, answer.refused) : { events: answer.events }
}

function said({ act }: Command, no: Refusal): Decision {
  return {
    refused: no,
    events: [{ type: 'actRefused', act, rule: no.rule, params: no.params, studentId: no.studentId, stationId: no.stationId }],
  }
}

/** What counts only by a ruling when it is told after the seal, or of somebody whom the day does not know: kept, and shown. */
function kept({ act, envelope, body }: Command, day: Day, events: readonly DayEvent[]): Decision {
  const about = body as { studentId?: StudentId; attemptId?: AttemptId; stationId?: StationId }
  const stranger = about.studentId !== undefined && about.studentId !== null && !day.students.has(about.studentId)
  const isLate = day.sealed !== null && measuring.includes(act)
  if (events.some((event) => event.type === 'reviewOpened') || (!stranger && !isLate)) return { events }
  const where = { studentId: about.studentId ?? null, attemptId: about.attemptId ?? null, stationId: about.stationId ?? null }
  return { events: [...events, opensReview(reviewIdOf(envelope.commandId), stranger ? 'unreadable' : 'lateAfterSeal', where)] }
}

const measuring: readonly ActName[] = ['recordResult', 'recordCrossing', 'weigh', 'checkEquipment']

/** Compiles only while every act of the vocabulary is decided exactly once. */
export type Undecided = Exclude<ActName, keyof typeof permissions | keyof typeof observes>
const _everyActIsDecided: [Undecided] extends [never] ? true : never = true
void _everyActIsDecided
