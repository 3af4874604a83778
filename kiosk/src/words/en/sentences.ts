import type { DayEvent, DayEventOf } from '@musterbook/vocabulary/events'
import type { Measured } from '@musterbook/vocabulary/measured'

/** Who and what stands behind the ids of an event, as the day stood then. */
export interface Named {
  student(studentId: string): string
  person(personId: string | null): string
  device(deviceId: string): string
  station(stationId: string | null): string
  /** null: everywhere outdoors. */
  zone(zoneId: string | null): string
  hold(holdId: string): string
  /** 'try 2 at Agility'. */
  attempt(studentId: string | null, attemptId: string | null): string
  /** What a review waits for, in words. */
  review(reviewId: string): string
  because(reason: string): string
  value(value: Measured): string
  clock(instant: number): string
  duration(milliseconds: number): string
  /** Why the day said no, in the words that were shown. */
  refusal(rule: string, params: Record<string, string | number>): string
}

/** The sheet that something was typed from, if it was. */
export type Written = DayEventOf<'resultRecorded'>['fromPaper'] | undefined

/** Every kind of event says itself: a new one does not compile until it can be said. */
export type Sentences = { [T in DayEvent['type']]: (event: DayEventOf<T>, named: Named) => string }

export type ReviewBecause = DayEventOf<'reviewOpened'>['because']

/** How a day is told in one language: its sentences, what stands beside them, and what is said of whoever and whatever has no name. */
export interface Telling {
  sentences: Sentences
  by(person: string, device: string): string
  /** Both clocks of an entry; the device’s with its ± band. */
  clocks(happened: string, bandMs: number, recorded: string): string
  notCertain: string
  /** The same where one of them is a hold. */
  holdGoverns: string
  notCertainHelp(n: number): string
  nobody: string
  everywhere: string
  aHold: string
  aReview: string
  theHold(kind: DayEventOf<'holdRaised'>['kind'], zone: string): string
  /** `number` 0: practice. */
  aTry(number: number, station: string): string
  because(reason: string): string
  refusal(rule: string, params: Record<string, string | number>): string
}

const list = (parts: readonly string[]): string => parts.join(', ')
const reading = (tenths: number | null, unit: 'degC' | 'degF') =>
  tenths === null ? 'without a value' : `${(tenths / 10).toFixed(1)} ${unit === 'degC' ? '°C' : '°F'}`
const clearances = { cleared: 'cleared', limited: 'cleared with limits', notToday: 'not today' }
const holdKinds = { heat: 'heat', lightning: 'lightning', air: 'air', cold: 'cold', other: 'other' }
const dispositions = { stopAndWalkIn: 'stop and walk in', finishThisLap: 'finish this lap', finishTheRun: 'finish the run' }
const outcomes = {
  good: 'good',
  foul: 'fault',
  noLift: 'no lift',
  noFaultRerun: 'run again through nobody’s fault',
  didNotFinish: 'not finished',
}
const rulings = { counts: 'it counts', doesNotCount: 'it does not count', retest: 'a retest is granted', settled: 'settled' }
const sheet = (paper: Written, n: Named) => (paper ? `, typed from sheet ${paper.sheet}, written by ${n.person(paper.writerId)}` : '')
const groups = ({ sex, ageYears }: { sex: string; ageYears: number }) => `${sex}, ${ageYears} years`

export const sentencesEn: Sentences = {
  dayOpened: ({ facts }) => `The day was opened: ${facts.title}, ${facts.date}${facts.rehearsal ? ', a rehearsal' : ''}.`,
  studentExpected: ({ studentId, walkIn, normGroup }, n) =>
    `${n.student(studentId)} ${walkIn ? 'was added as a walk-in' : 'is on the roster'}, norm group ${groups(normGroup)}.`,
  staffAssigned: ({ personId, stationId, qualified }, n) =>
    `${n.person(personId)} was assigned to ${n.station(stationId)}${qualified ? '' : ', not listed as qualified there and accepted with a reason'}.`,
  staffReleased: ({ personId, stationId }, n) => `${n.person(personId)} was released from ${n.station(stationId)}.`,
  equipmentChecked: ({ equipmentId, passed, reference, read }, n) =>
    `${equipmentId} was checked and ${passed ? 'passed' : 'failed: it is blocked'}${reference && read ? ` (reference ${n.value(reference)}, read ${n.value(read)})` : ''}.`,
  classBriefed: ({ studentIds, protocols }, n) =>
    `${studentIds.length} students were briefed on ${list(protocols.map(({ stationId, version }) => `${n.station(stationId)} (version ${version})`))}.`,

  checkedIn: ({ studentId, late }, n) => `${n.student(studentId)} checked in${late ? ', late' : ''}.`,
  bibBound: ({ studentId, bib, replaces }, n) => `${n.student(studentId)} wears bib ${bib}${replaces ? ` in place of ${replaces}` : ''}.`,
  studentAbsent: ({ studentId }, n) => `${n.student(studentId)} was marked absent.`,
  studentWithdrew: ({ studentId }, n) => `${n.student(studentId)} withdrew from the day by choice.`,
  normGroupChanged: ({ studentId, from, to, countersigned }, n) =>
    `${n.student(studentId)}: norm group changed from ${groups(from)} to ${groups(to)}, ${n.person(countersigned.personId)} agreed.`,

  clearanceRecorded: ({ studentId, status, conflictsWith }, n) =>
    `${n.student(studentId)}: clearance recorded as ${clearances[status]}${conflictsWith.length > 0 ? ', beside another that was not seen; the stricter governs' : ''}.`,
  clearanceWithdrawn: ({ studentId }, n) => `${n.student(studentId)}: clearance withdrawn.`,
  weighed: ({ studentId, scaleId, afterEffort }, n) =>
    `${n.student(studentId)} was weighed on ${scaleId}${afterEffort ? ', after an effort' : ''}.`,
  warmUpConfirmed: ({ studentId }, n) => `${n.student(studentId)}: warm-up confirmed.`,

  queueJoined: ({ studentId, stationId }, n) => `${n.student(studentId)} joined the queue at ${n.station(stationId)}.`,
  queueLeft: ({ studentId, stationId }, n) => `${n.student(studentId)} left the queue at ${n.station(stationId)}.`,
  calledUp: ({ studentId, stationId }, n) => `${n.student(studentId)} was called up to ${n.station(stationId)}.`,
  sentBack: ({ studentId, stationId }, n) => `${n.student(studentId)} was sent back to the queue at ${n.station(stationId)}.`,

  attemptStarted: ({ studentId, stationId, official, number, load, reviewId, fromPaper }, n) =>
    `${n.student(studentId)} started ${official ? `official try ${number}` : 'practice'} at ${n.station(stationId)}${load ? ` with ${n.value(load)}` : ''}${reviewId ? ', told afterwards; it waits for a decision' : ''}${sheet(fromPaper, n)}.`,
  attemptReleased: ({ studentId, attemptId }, n) =>
    `${n.student(studentId)}: ${n.attempt(studentId, attemptId)} was released, the try given back.`,
  resultRecorded: ({ studentId, stationId, attemptId, outcome, value, folds, fault, as, keptUnusual, fromPaper }, n) =>
    `${n.student(studentId)}, ${n.attempt(studentId, attemptId) || n.station(stationId)}: ${outcomes[outcome]}${value ? ` ${n.value(value)}` : ''}${folds.length > 0 ? ` ${folds.length} skinfold readings` : ''}${fault ? ` (${fault})` : ''}${as === 'secondWitness' ? ', second reading of the same try' : as === 'extra' ? ', extra, not counted' : ''}${keptUnusual ? ', unusual, asked and kept' : ''}${sheet(fromPaper, n)}.`,
  readBackDisputed: ({ studentId, attemptId }, n) =>
    `${n.student(studentId)} heard another value read back for ${n.attempt(studentId, attemptId)}.`,
  differenceAcknowledged: ({ studentId, attemptId }, n) =>
    `The two readings of ${n.attempt(studentId, attemptId)} of ${n.student(studentId)} differ; that was acknowledged.`,
  promptAnswered: ({ studentId, shown, answer, reason }, n) =>
    `Asked${studentId ? ` about ${n.student(studentId)}` : ''}: “${shown}” Answered: ${answer}${reason ? ', with a reason' : ''}.`,
  attemptInterrupted: ({ studentId, attemptId, by, holdId }, n) =>
    `${n.student(studentId)}: ${n.attempt(studentId, attemptId)} interrupted by ${by === 'hold' ? (holdId ? n.hold(holdId) : 'a hold') : by === 'medicalStop' ? 'a medical stop' : 'withdrawal'}; no try used.`,

  waveStarted: ({ stationId, studentIds, official, underHold, fromPaper }, n) =>
    `A wave of ${studentIds.length} started ${official ? '' : 'as practice '}at ${n.station(stationId)}${underHold ? '; order not certain, the hold governs' : ''}${sheet(fromPaper, n)}.`,
  crossingRecorded: ({ studentId, line, elapsedMs, ignored, fromPaper }, n) =>
    `${n.student(studentId)} crossed the ${line === 'finish' ? 'finish line' : 'line'} at ${n.duration(elapsedMs)}${ignored ? `, ignored: ${{ underMinimumLap: 'too soon after the last', afterFinish: 'after the finish', notRunning: 'not running', secondWitness: 'seen by a second device', unpaired: 'told late by another device and paired with no lap' }[ignored]}` : ''}${sheet(fromPaper, n)}.`,
  waveTakenOver: () => 'A second device took over a wave that was under way; clock and laps go on.',
  crossingTakenBack: ({ studentId }, n) => `A crossing of ${n.student(studentId)} was taken back; the touch stays in the record.`,
  lapInferred: ({ studentId, elapsedMs, witnessId }, n) =>
    `A lap of ${n.student(studentId)} was inferred at ${n.duration(elapsedMs)}${witnessId ? `, witness ${n.person(witnessId)}` : ''}.`,
  finishRecorded: ({ studentId, elapsedMs, laps, reviewId }, n) =>
    `${n.student(studentId)} finished at ${n.duration(elapsedMs)} with ${laps} laps${reviewId ? '; the result is withheld' : ''}.`,

  studentStopped: ({ studentId, zoneId }, n) =>
    `Medical stop recorded for ${n.student(studentId)}${zoneId ? ` in ${n.zone(zoneId)}` : ''}.`,
  stopperNamed: ({ studentId, personId }, n) => `${n.person(personId)} said that they had stopped ${n.student(studentId)}.`,
  studentReferred: ({ studentId, to }, n) =>
    `${n.student(studentId)} was referred to ${{ screener: 'the screener', clinician: 'a clinician', ambulance: 'the ambulance crew' }[to]}.`,
  referralAnswered: ({ studentId, outcome }, n) => `The referral of ${n.student(studentId)} was answered: ${clearances[outcome]}.`,
  studentRestored: ({ studentId }, n) => `${n.student(studentId)} was restored by a screener.`,
  stopAnswered: ({ studentId, answer }, n) =>
    `The stop of ${n.student(studentId)} was ${answer === 'arrived' ? 'answered: arrived' : 'acknowledged'}.`,
  healthEventReported: ({ studentId }, n) =>
    `A health event of ${n.student(studentId)} was reported; nothing starts until a screener clears.`,
  staffCalled: ({ deviceId }, n) => `Somebody at ${n.device(deviceId)} asked for staff.`,
  callAnswered: () => 'A call for staff was answered.',

  readingReceived: ({ wbgtTenths, unit, zoneId, instrumentId, settled, saidSettledEarly, usable, readAt, readBy }, n) =>
    `WBGT ${reading(wbgtTenths, unit)} in ${n.zone(zoneId)}, read ${n.clock(readAt)} on ${instrumentId}${readBy ? ` by ${n.person(readBy)}` : ''}${settled ? (saidSettledEarly ? ', said settled early' : '') : ', not settled'}${usable ? '' : ', not usable for a start or a lift'}.`,
  holdRaised: ({ kind, zoneId, raisedBy, underWay }, n) =>
    `Hold raised over ${n.zone(zoneId)} (${holdKinds[kind]})${{ person: '', device: ' from a device with nobody signed on', policy: ' by the heat policy', takenOver: ', taken over from before the day opened' }[raisedBy]}; ${underWay.length} under way${underWay.some((one) => one.orderNotCertain) ? ', order not certain for some: the hold governs' : ''}.`,
  holdAcknowledged: ({ holdId, deviceId }, n) => `${n.device(deviceId)} has heard ${n.hold(holdId)}.`,
  holdHeardByRadio: ({ holdId, deviceId, saidBy }, n) =>
    `${n.person(saidBy)} said over the radio that they heard ${n.hold(holdId)}; ${n.device(deviceId)} itself had not acknowledged it.`,
  holdDisposed: ({ holdId, disposition, studentIds }, n) =>
    `For the ${studentIds.length} under way in ${n.hold(holdId)}: ${dispositions[disposition]}.`,
  hazardObserved: ({ kind, value, zoneId }, n) =>
    `${{ thunder: 'Thunder', flash: 'A flash', airIndex: 'Air quality index', windChill: 'Wind chill' }[kind]}${value === null ? '' : ` ${kind === 'windChill' ? `${(value / 10).toFixed(1)} °C` : value}`} observed over ${n.zone(zoneId)}.`,
  liftProposed: ({ holdId, readingId }, n) => `A lift of ${n.hold(holdId)} was proposed${readingId ? ' on a reading' : ''}.`,
  holdLifted: ({ holdId, proposedBy }, n) => `${capital(n.hold(holdId))} was lifted; ${n.person(proposedBy)} had proposed it.`,
  radioConfirmed: ({ stationId, spokeTo, until }, n) =>
    `Radio confirmation for ${n.station(stationId)}: spoke to ${n.person(spokeTo)}, good until ${n.clock(until)}.`,
  headcountTaken: ({ zoneId, present, missing }, n) =>
    `Headcount in ${n.zone(zoneId)}: ${present.length} present${missing.length > 0 ? `, missing ${list(missing.map((one) => n.student(one)))}` : ', nobody missing'}.`,
  seenAtHeadcount: ({ zoneId, studentIds, seen }, n) =>
    `In the headcount in ${n.zone(zoneId)}, ${list(studentIds.map((one) => n.student(one)))} ${studentIds.length === 1 ? 'was' : 'were'} ${seen ? 'marked as seen' : 'marked as not seen after all'}.`,

  reviewOpened: ({ because, about }, n) =>
    `Waits for a decision: ${n.because(because)}${about.studentId ? `, ${n.student(about.studentId)}` : ''}${about.equipmentId ? `, ${about.equipmentId}` : ''}.`,
  reviewRuled: ({ reviewId, ruling }, n) => `Decided: ${rulings[ruling]} (${n.review(reviewId)}).`,
  reviewSettled: ({ reviewId, by }, n) => `No longer open: ${n.review(reviewId)}, settled by ${by}.`,
  corrected: ({ studentId, attemptId, change, countersigned }, n) =>
    `${n.student(studentId)}: ${n.attempt(studentId, attemptId)} ${
      change.kind === 'value'
        ? `corrected to ${n.value(change.value)}`
        : change.kind === 'void'
          ? 'made void'
          : change.kind === 'official'
            ? `changed to ${change.official ? 'official' : 'practice'}`
            : `moved to ${n.student(change.toStudentId)}`
    }${countersigned ? `, ${n.person(countersigned.personId)} agreed` : ''}.`,
  retestGranted: ({ studentId, stationIds, until, because }, n) =>
    `${n.student(studentId)} may repeat ${list(stationIds.map((one) => n.station(one)))} until ${until}${{ hold: ', interrupted by a hold', medicalStop: ', interrupted by a medical stop', ruling: ', by a decision', supervisor: '' }[because]}.`,
  coolDownConfirmed: ({ studentId, lookOver }, n) =>
    `${n.student(studentId)}: cool-down lap and look-over recorded${lookOver === 'referred' ? ', referred' : ''}.`,
  coolDownExcused: ({ studentId }, n) => `${n.student(studentId)}: cool-down excused with a reason.`,
  studentSignedOff: ({ studentId }, n) => `${n.student(studentId)} was signed off.`,

  daySealed: ({ openReviews }) =>
    `The day was sealed${openReviews > 0 ? ` with ${openReviews} open, accepted with a reason` : ', nothing open'}.`,
  afterOpened: ({ sealedVersion }) => `What follows was recorded after the seal at entry ${sealedVersion}.`,
  reopened: ({ countersigned }, n) =>
    `The sealed day was reopened with a reason; ${n.person(countersigned.personId)} agreed. The seal stays as it is.`,

  actRefused: ({ rule, params, studentId, stationId }, n) =>
    `Refused${studentId ? ` for ${n.student(studentId)}` : ''}${stationId ? ` at ${n.station(stationId)}` : ''}: ${n.refusal(rule, params)}`,
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)
