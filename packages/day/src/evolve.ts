import { fits, follow, type StudentEvent } from '@musterbook/student/machine'
import { happenedAt } from '@musterbook/vocabulary/envelope'
import type { DayEvent, DayEventOf } from '@musterbook/vocabulary/events'
import type { PinnedStation } from '@musterbook/vocabulary/rules'
import type { AttemptId, StationId, StudentId } from '@musterbook/vocabulary/ids'
import type { ReviewReason, Ruling } from '@musterbook/vocabulary/review'
import {
  attemptsUnderWay,
  machinesFor,
  newStudent,
  shape,
  stationOf,
  type Attempt,
  type Correction,
  type Day,
  type Hold,
  type Span,
  type Student,
  type Told,
  type Wave,
} from './day.ts'
import { barredBy, governing } from './governing.ts'
import { Growing } from './growing.ts'

/** What the fold reads of an entry, whichever ledger it came from. */
export interface DayEntry {
  stream: string
  version: number
  recordedAt: number
  meta: {
    commandId: string
    personId: string | null
    deviceId: string
    deviceSequence: number
    occurredAt: number
    steadyMs: number | null
    steadyOf?: string
    offsetMs: number
    bandMs: number
  }
  events: readonly { readonly type: string }[]
}

/**
 * The day after one more entry. It keys on event and state alone: guards belong to decide. What does not fit is listed
 * as an anomaly and the day goes on.
 */
export function evolve(day: Day, entry: DayEntry): Day {
  const told = toldIn(entry)
  const isAfter = entry.stream.startsWith('after/')
  const heard = {
    ...day,
    version: isAfter ? day.version : entry.version,
    afterVersion: isAfter ? entry.version : day.afterVersion,
    devices: withEntry(day.devices, told.deviceId, deviceHeard(day, entry, told)),
  }
  return (entry.events as readonly DayEvent[]).reduce<Day>((before, event) => (follows[event.type] as Follows)(before, event, told), heard)
}

type Follows = (day: Day, event: DayEvent, told: Told) => Day
type FollowsEach = { [T in DayEvent['type']]: (day: Day, event: DayEventOf<T>, told: Told) => Day }

const follows: FollowsEach = {
  dayOpened: (day, { facts, rules }, told) => ({ ...day, opened: { facts, rules, machines: machinesFor(rules), at: told.recordedAt } }),
  studentExpected: (day, event, told) =>
    day.opened && !day.students.has(event.studentId)
      ? { ...day, students: withEntry(day.students, event.studentId, newStudent(event, event.walkIn, day.opened.machines)) }
      : stray(day, 'studentExpected', told),
  staffAssigned: (day, { stationId, personId, qualified }) => ({
    ...day,
    staff: withEntry(day.staff, stationId, [
      ...(day.staff.get(stationId) ?? []).filter((one) => one.personId !== personId),
      { personId, accepted: !qualified },
    ]),
  }),
  staffReleased: (day, { stationId, personId }) => ({
    ...day,
    staff: withEntry(
      day.staff,
      stationId,
      (day.staff.get(stationId) ?? []).filter((one) => one.personId !== personId),
    ),
  }),
  equipmentChecked: (day, event, told) => {
    const before = day.equipment.get(event.equipmentId)
    const at = happenedAt(told)
    return {
      ...day,
      equipment: withEntry(day.equipment, event.equipmentId, {
        blocked: !event.passed,
        lastGoodAt: event.passed ? at : (before?.lastGoodAt ?? null),
        checks: (before?.checks ?? Growing.of()).with({ event, at }),
      }),
    }
  },
  classBriefed: (day, { studentIds, protocols }) =>
    studentIds.reduce(
      (before, studentId) =>
        withStudent(before, studentId, (student) => ({
          ...student,
          briefed: [...new Set([...student.briefed, ...protocols.map((one) => one.stationId)])],
        })),
      day,
    ),

  checkedIn: (day, { studentId, late }, told) =>
    withStudent(
      day,
      studentId,
      (student) => moved({ ...student, checkedInAt: student.checkedInAt ?? happenedAt(told), late }, { type: 'checkedIn' }),
      told,
      'checkedIn',
    ),
  bibBound: (day, { studentId, bib, replaces }) => {
    const bibs = new Map(day.bibs)
    if (replaces) bibs.delete(replaces)
    bibs.set(bib, studentId)
    return withStudent({ ...day, bibs }, studentId, (student) => ({ ...student, bib }))
  },
  studentAbsent: (day, { studentId }, told) =>
    withStudent(day, studentId, (student) => moved(student, { type: 'absent' }), told, 'studentAbsent'),
  studentWithdrew: (day, { studentId }, told) =>
    withStudent(
      day,
      studentId,
      (student) => moved({ ...student, queue: [], calledTo: null }, { type: 'withdrew' }),
      told,
      'studentWithdrew',
    ),
  normGroupChanged: (day, { studentId, to }) => withStudent(day, studentId, (student) => changed({ ...student, normGroup: to })),

  clearanceRecorded: (day, event, told) =>
    withStudent(day, event.studentId, (student) => {
      const clearance = {
        clearanceId: event.clearanceId,
        status: event.status,
        limits: event.limits,
        personId: told.personId,
        at: happenedAt(told),
      }
      // A screener who saw what stood replaces it; one who did not stands beside it until the conflict is settled.
      const beside = event.conflictsWith.length > 0 ? student.clearances.filter((one) => event.conflictsWith.includes(one.clearanceId)) : []
      const settles = event.conflictsWith.length === 0 && event.status !== 'notToday'
      return recleared(day, { ...student, healthEvent: student.healthEvent && !settles }, [...beside, clearance])
    }),
  clearanceWithdrawn: (day, { studentId, clearanceId }, told) =>
    withStudent(day, studentId, (student) => {
      // Known by an id of its own: a screener who saw only what it withdrew has not seen the withdrawal.
      const known = student.clearances.some((one) => one.clearanceId === clearanceId)
      const withdrawal = known ? (`${told.commandId}.w` as typeof clearanceId) : clearanceId
      const at = happenedAt(told)
      return recleared(day, student, [{ clearanceId: withdrawal, status: 'withdrawn', limits: [], personId: told.personId, at }])
    }),
  weighed: (day, { studentId, mass, scaleId, afterEffort }, told) =>
    withStudent(day, studentId, (student) =>
      moved(
        changed({
          ...student,
          weighIns: [
            ...student.weighIns,
            { observationId: told.commandId, mass, scaleId, at: happenedAt(told), afterEffort, afterSeal: day.sealed !== null },
          ],
        }),
        { type: 'weighed' },
      ),
    ),
  warmUpConfirmed: (day, { studentId }, told) =>
    withStudent(day, studentId, (student) =>
      moved({ ...student, warmUpAt: student.warmUpAt ?? happenedAt(told) }, { type: 'warmUpConfirmed' }),
    ),

  queueJoined: (day, { studentId, stationId }, told) =>
    withStudent(day, studentId, (student) =>
      // Asked twice, the place stays where it was.
      student.queue.some((place) => place.stationId === stationId)
        ? student
        : { ...student, queue: [...student.queue, { stationId, since: happenedAt(told) }] },
    ),
  queueLeft: (day, { studentId, stationId }) =>
    withStudent(day, studentId, (student) => ({ ...student, queue: without(student.queue, stationId) })),
  calledUp: (day, { studentId, stationId }, told) =>
    withStudent(day, studentId, (student) =>
      student.calledTo?.stationId === stationId ? student : { ...student, calledTo: { stationId, since: happenedAt(told) } },
    ),
  sentBack: (day, { studentId, stationId }) =>
    withStudent(day, studentId, (student) => (student.calledTo?.stationId === stationId ? { ...student, calledTo: null } : student)),

  attemptStarted: (day, event, told) => {
    if (!stationOf(day, event.stationId)) return stray(day, 'attemptStarted', told, event.studentId)
    const known = day.students.get(event.studentId)?.attempts.find((attempt) => attempt.attemptId === event.attemptId)
    if (known) return startToldLate(day, known, event, told)
    return withStudent(
      { ...day, firstEffortAt: day.firstEffortAt ?? (isEffort(day, event.stationId) ? happenedAt(told) : null) },
      event.studentId,
      (student) => {
        const attempt: Attempt = {
          ...blank(event),
          ...pick(event),
          started: told,
          reviewIds: event.reviewId ? [event.reviewId] : [],
        }
        const next = {
          ...student,
          attempts: [...student.attempts, attempt],
          queue: without(student.queue, event.stationId),
          calledTo: null,
        }
        return moved(changed(next), { type: `attemptStarted.${event.stationId}` })
      },
      told,
      'attemptStarted',
    )
  },
  attemptReleased: (day, { studentId, attemptId }, told) =>
    withAttempt(
      day,
      studentId,
      attemptId,
      (attempt) => ({ ...attempt, status: 'released', endedAt: happenedAt(told) }),
      told,
      'attemptReleased',
      (attempt) => `attemptReleased.${attempt.stationId}`,
    ),
  resultRecorded: (day, event, told) => {
    const known = day.students.get(event.studentId)?.attempts.some((attempt) => attempt.attemptId === event.attemptId)
    const before = known ? day : withUnseenAttempt(day, event, told)
    return withAttempt(
      before,
      event.studentId,
      event.attemptId,
      (attempt) => ({
        ...attempt,
        observations: [...attempt.observations, { event, told }],
        endedAt: attempt.endedAt ?? happenedAt(told),
        status: attempt.status === 'underWay' ? 'recorded' : attempt.status,
        extra: attempt.extra || event.as === 'extra',
        reviewIds: event.reviewId ? [...attempt.reviewIds, event.reviewId] : attempt.reviewIds,
      }),
      told,
      'resultRecorded',
      (attempt) => (attempt.status === 'underWay' ? `attemptEnded.${attempt.stationId}` : null),
    )
  },
  readBackDisputed: (day, { studentId, attemptId, reviewId }, told) =>
    withAttempt(
      day,
      studentId,
      attemptId,
      (attempt) => ({ ...attempt, reviewIds: [...attempt.reviewIds, reviewId] }),
      told,
      'readBackDisputed',
    ),
  differenceAcknowledged: (day, { studentId, attemptId }, told) =>
    withAttempt(day, studentId, attemptId, (attempt) => ({ ...attempt, differenceAcknowledged: true }), told, 'differenceAcknowledged'),
  promptAnswered: (day, event, told) => ({ ...day, prompts: day.prompts.with({ event, told }) }),
  attemptInterrupted: (day, { studentId, attemptId, by, holdId }, told) =>
    withAttempt(
      day,
      studentId,
      attemptId,
      (attempt) =>
        // What was over before stays what it was.
        attempt.status === 'underWay'
          ? { ...attempt, status: 'interrupted', interruptedBy: { by, holdId }, endedAt: happenedAt(told) }
          : attempt,
      told,
      'attemptInterrupted',
      (attempt) => (attempt.status === 'underWay' ? `attemptEnded.${attempt.stationId}` : null),
    ),

  waveStarted: (day, { waveId, stationId, studentIds, official, underHold }, told) => {
    const known = day.waves.get(waveId)
    // A second tablet's word on the same gun adds who it saw run; the first gun stays the gun.
    const wave: Wave = known
      ? { ...known, studentIds: [...new Set([...known.studentIds, ...studentIds])], underHold: known.underHold ?? underHold }
      : { waveId, stationId, studentIds, official, underHold, gun: told, takenOver: null }
    return { ...day, waves: withEntry(day.waves, waveId, wave) }
  },
  waveTakenOver: (day, { waveId }, told) => {
    const wave = day.waves.get(waveId)
    if (!wave) return stray(day, 'waveTakenOver', told)
    // Told late by a tablet that was out of contact: whoever took it over last has it.
    if (wave.takenOver && happenedAt(wave.takenOver) > happenedAt(told)) return day
    return { ...day, waves: withEntry(day.waves, waveId, { ...wave, takenOver: told }) }
  },
  crossingRecorded: (day, { waveId, studentId, observationId, elapsedMs, ignored, fromPaper }, told) =>
    withRunner(
      day,
      waveId,
      studentId,
      (attempt) => ({
        ...attempt,
        taps: [...attempt.taps, { observationId, elapsedMs, inferred: false, witnessId: null, ignored, told, ...paperOf(fromPaper) }],
      }),
      told,
      'crossingRecorded',
    ),
  // Behind the seal it is kept and asked about, and a person decides what becomes of the lap.
  crossingTakenBack: (day, { waveId, studentId, observationId }, told) =>
    day.sealed
      ? day
      : withRunner(
          day,
          waveId,
          studentId,
          (attempt) => ({
            ...attempt,
            taps: attempt.taps.map((tap) =>
              tap.observationId === observationId && !tap.inferred ? { ...tap, ignored: 'takenBack' as const } : tap,
            ),
          }),
          told,
          'crossingTakenBack',
        ),
  lapInferred: (day, { waveId, studentId, observationId, elapsedMs, witnessId }, told) =>
    withRunner(
      day,
      waveId,
      studentId,
      (attempt) => ({ ...attempt, taps: [...attempt.taps, { observationId, elapsedMs, inferred: true, witnessId, ignored: null, told }] }),
      told,
      'lapInferred',
    ),
  finishRecorded: (day, { studentId, attemptId, elapsedMs, laps, reviewId }, told) =>
    withAttempt(
      day,
      studentId,
      attemptId,
      (attempt) => ({
        ...attempt,
        ...(isTakenBack(attempt, elapsedMs) ? outThere(attempt) : finished(attempt, told)),
        finish: { elapsedMs, laps, told: attempt.finish?.told ?? told },
        reviewIds: reviewId ? [...attempt.reviewIds, reviewId] : attempt.reviewIds,
      }),
      told,
      'finishRecorded',
      (attempt) => (attempt.status === 'underWay' && !isTakenBack(attempt, elapsedMs) ? `attemptEnded.${attempt.stationId}` : null),
    ),

  studentStopped: (day, { studentId, zoneId, reason, attemptId }, told) =>
    withStudent(day, studentId, (student) =>
      moved(
        {
          ...student,
          calledTo: null,
          stopCount: student.stopCount + 1,
          past: { ...student.past, stops: student.stop ? student.past.stops : [...student.past.stops, since(happenedAt(told))] },
          stop: student.stop ?? { since: happenedAt(told), zoneId, reason, attemptId, told, namedAs: null, answers: [] },
        },
        { type: 'stopped' },
      ),
    ),
  stopperNamed: (day, { studentId, personId }) => withStop(day, studentId, (stop) => ({ ...stop, namedAs: personId })),
  stopAnswered: (day, { studentId, answer }, told) =>
    withStop(day, studentId, (stop) => ({
      ...stop,
      answers: [...stop.answers, { answer, at: happenedAt(told), personId: told.personId }],
    })),
  studentReferred: (day, { studentId, referralId, to }, told) =>
    withStudent(day, studentId, (student) => ({
      ...student,
      referrals: [...student.referrals, { referralId, to, at: happenedAt(told), answered: null }],
    })),
  referralAnswered: (day, { studentId, referralId, outcome }, told) =>
    withStudent(day, studentId, (student) => ({
      ...student,
      referrals: student.referrals.map((one) =>
        one.referralId === referralId ? { ...one, answered: { outcome, at: happenedAt(told) } } : one,
      ),
    })),
  studentRestored: (day, { studentId }, told) =>
    withStudent(
      day,
      studentId,
      (student) =>
        moved({ ...student, stop: null, past: { ...student.past, stops: over(student.past.stops, told) } }, { type: 'restored' }),
      told,
      'studentRestored',
    ),
  healthEventReported: (day, { studentId }) => withStudent(day, studentId, (student) => ({ ...student, healthEvent: true })),
  staffCalled: (day, { callId, deviceId }, told) => ({
    ...day,
    calls: withEntry<string, { deviceId: typeof deviceId; at: number }>(day.calls, callId, { deviceId, at: happenedAt(told) }),
  }),
  callAnswered: (day, { callId }) => ({ ...day, calls: new Map([...day.calls].filter(([known]) => known !== callId)) }),

  readingReceived: (day, event) => ({
    ...day,
    readings: day.readings.with(event),
    siteVersion: Math.max(day.siteVersion, event.siteVersion),
  }),
  holdRaised: (day, { type: _, holdId, kind, zoneId, raisedBy, readingId, underWay }, told) => ({
    ...day,
    holds: withEntry(day.holds, holdId, {
      holdId,
      kind,
      zoneId,
      raisedBy,
      readingId,
      raised: told,
      underWay,
      heard:
        raisedBy === 'person' || raisedBy === 'device'
          ? new Map([[told.deviceId, { at: happenedAt(told), personId: told.personId }]])
          : new Map(),
      disposed: null,
      proposal: null,
      lifted: null,
    }),
  }),
  holdAcknowledged: (day, { holdId, deviceId }, told) =>
    withHold(
      day,
      holdId,
      (hold) => ({ ...hold, heard: withEntry(hold.heard, deviceId, { at: happenedAt(told), personId: told.personId }) }),
      told,
    ),
  holdHeardByRadio: (day, { holdId, deviceId, saidBy }, told) =>
    withHold(
      day,
      holdId,
      (hold) => ({
        ...hold,
        heardByRadio: withEntry(hold.heardByRadio ?? new Map(), deviceId, { at: happenedAt(told), saidBy, notedBy: told.personId }),
      }),
      told,
    ),
  holdDisposed: (day, { holdId, disposition, studentIds }, told) =>
    withHold(day, holdId, (hold) => ({ ...hold, disposed: { disposition, studentIds, at: happenedAt(told) } }), told),
  hazardObserved: (day, { kind, zoneId, value }, told) => ({ ...day, hazards: day.hazards.with({ kind, zoneId, value, told }) }),
  liftProposed: (day, { holdId, readingId }, told) =>
    withHold(
      day,
      holdId,
      (hold) => ({ ...hold, proposal: told.personId ? { by: told.personId, readingId, at: happenedAt(told) } : null }),
      told,
    ),
  holdLifted: (day, { holdId }, told) =>
    withHold(day, holdId, (hold) => ({ ...hold, lifted: { at: happenedAt(told), by: told.personId } }), told),
  radioConfirmed: (day, { stationId, waveId, until, spokeTo }, told) => ({
    ...day,
    radio: withEntry(day.radio, stationId, { until, waveId, spokeTo, told }),
  }),
  headcountTaken: (day, { zoneId, present, missing }, told) => ({
    ...day,
    headcounts: withEntry(day.headcounts, zoneId, { present, missing, told }),
  }),
  seenAtHeadcount: (day, { zoneId, studentIds, seen }, told) => {
    const before = day.headsSeen.get(zoneId) ?? new Map()
    // One that comes late from out of contact takes nothing back that was touched since.
    const isNewer = (studentId: StudentId) => {
      const last = before.get(studentId)
      return !last || happenedAt(last.told) <= happenedAt(told)
    }
    const marks = studentIds.filter(isNewer).map((studentId) => [studentId, { seen, told }] as const)
    return { ...day, headsSeen: withEntry(day.headsSeen, zoneId, new Map([...before, ...marks])) }
  },

  reviewOpened: (day, { reviewId, because, about }, told) => {
    const next = {
      ...day,
      reviews: withEntry(day.reviews, reviewId, {
        reviewId,
        because,
        about,
        opened: told,
        afterSeal: day.sealed !== null,
        ruled: null,
      }),
    }
    if (!about.studentId || !about.attemptId) return next
    return touched(next, about.studentId, about.attemptId, (attempt) =>
      attempt.reviewIds.includes(reviewId) ? attempt : { ...attempt, reviewIds: [...attempt.reviewIds, reviewId] },
    )
  },
  reviewRuled: (day, { reviewId, ruling }, told) => {
    const next = settled(day, reviewId, ruling, told)
    const about = next.reviews.get(reviewId)?.about
    if (!about?.studentId || !about.attemptId) return next
    return touched(next, about.studentId, about.attemptId, (attempt) => ({
      ...attempt,
      ruling: ruledOn(attempt, ruling, next.reviews.get(reviewId)?.because),
      revision: attempt.revision + 1,
    }))
  },
  reviewSettled: (day, { reviewId }, told) => settled(day, reviewId, 'settled', told),
  corrected: (day, event, told) => correct(day, event, told),
  retestGranted: (day, { studentId, entitlementId, stationIds, until, because }, told) =>
    withStudent(day, studentId, (student) => ({
      ...student,
      entitlements: [...student.entitlements, { entitlementId, stationIds, until, because, at: happenedAt(told) }],
    })),
  coolDownConfirmed: (day, { studentId }, told) =>
    withStudent(
      day,
      studentId,
      (student) =>
        moved(
          { ...student, coolDownAt: happenedAt(told), coolDownExcused: false, past: cooled(student, told) },
          { type: 'coolDownRecorded' },
        ),
      told,
      'coolDownConfirmed',
    ),
  coolDownExcused: (day, { studentId }, told) =>
    withStudent(
      day,
      studentId,
      (student) =>
        moved(
          { ...student, coolDownAt: happenedAt(told), coolDownExcused: true, past: cooled(student, told) },
          { type: 'coolDownRecorded' },
        ),
      told,
      'coolDownExcused',
    ),
  studentSignedOff: (day, { studentId }, told) =>
    withStudent(
      day,
      studentId,
      (student) => moved({ ...student, signedOffAt: happenedAt(told), queue: [], calledTo: null }, { type: 'signedOff' }),
      told,
      'studentSignedOff',
    ),

  // Behind the seal the same word ends a reopening: the seal itself stays the first one.
  daySealed: (day, _, told) =>
    day.sealed ? { ...day, reopened: false } : { ...day, sealed: { version: told.version, at: told.recordedAt } },
  afterOpened: (day) => day,
  reopened: (day) => ({ ...day, reopened: true }),
  actRefused: (day, { act, rule, studentId, stationId }, told) => ({
    ...day,
    refusals: day.refusals.with({ version: told.version, act, rule, studentId, stationId, at: told.recordedAt, personId: told.personId }),
  }),
}

/** Skinfolds are read while others still arrive: the day's first effort is the first that asks a warm-up. */
const isEffort = (day: Day, stationId: PinnedStation['stationId']): boolean =>
  day.opened?.rules.stations.find((station) => station.stationId === stationId)?.protocol.prerequisites.includes('warmUp') ?? false

const toldIn = ({ version, recordedAt, meta }: DayEntry): Told => ({
  version,
  recordedAt,
  commandId: meta.commandId,
  personId: meta.personId as Told['personId'],
  deviceId: meta.deviceId as Told['deviceId'],
  occurredAt: meta.occurredAt,
  steadyMs: meta.steadyMs,
  ...(meta.steadyOf && { steadyOf: meta.steadyOf }),
  offsetMs: meta.offsetMs,
  bandMs: meta.bandMs,
})

function deviceHeard(day: Day, { meta, recordedAt }: DayEntry, told: Told) {
  const before = day.devices.get(told.deviceId)
  return {
    lastHeardAt: Math.max(before?.lastHeardAt ?? 0, recordedAt),
    offsetMs: meta.offsetMs,
    bandMs: meta.bandMs,
    lastSequence: Math.max(before?.lastSequence ?? 0, meta.deviceSequence),
  }
}

/** Entry by entry, which takes three quarters of the time of the constructor: each entry of a day copies two of its maps. */
function withEntry<Key, Value>(map: ReadonlyMap<Key, Value>, key: Key, value: Value): ReadonlyMap<Key, Value> {
  const next = new Map<Key, Value>()
  for (const [each, one] of map) next.set(each, one)
  return next.set(key, value)
}

const without = <Place extends { stationId: string }>(places: readonly Place[], stationId: string): Place[] =>
  places.filter((place) => place.stationId !== stationId)
const changed = (student: Student): Student => ({ ...student, changed: student.changed + 1 })

const stray = (day: Day, type: string, told: Told, studentId: StudentId | null = null): Day => ({
  ...day,
  anomalies: day.anomalies.with({ version: told.version, type, studentId }),
})

/** Was every touch that made this finish taken back? */
const isTakenBack = ({ taps }: Attempt, elapsedMs: number): boolean => {
  const touches = taps.filter((tap) => tap.elapsedMs === elapsedMs)
  return touches.length > 0 && touches.every((tap) => tap.ignored === 'takenBack')
}

const finished = (attempt: Attempt, told: Told): Pick<Attempt, 'status' | 'endedAt'> => ({
  status: attempt.status === 'underWay' ? 'recorded' : attempt.status,
  endedAt: attempt.endedAt ?? happenedAt(told),
})

/** Not over after all: who is out on the track is under way, and a hold finds them there. */
const outThere = (attempt: Attempt): Partial<Pick<Attempt, 'status' | 'endedAt'>> =>
  attempt.status === 'recorded' && attempt.observations.length === 0 ? { status: 'underWay', endedAt: null } : {}

/** The student as they are, and what the machine is to be told. */
interface Moved {
  to: Student
  wants: StudentEvent
}

const moved = (to: Student, wants: StudentEvent): Moved => ({ to, wants })

/** A run that ends makes the cool-down due from then. */
const cooling = (before: Student, after: Student, told: Told): Student =>
  shape(before).coolDown !== 'due' && shape(after).coolDown === 'due'
    ? { ...after, past: { ...after.past, coolDowns: [...after.past.coolDowns, since(happenedAt(told))] } }
    : after

/**
 * Changes one student and tells the machine. `told` says when; with `type` too, an event that has no place is listed,
 * and so is a student whom the day does not know.
 */
function withStudent(day: Day, studentId: StudentId, change: (student: Student) => Student | Moved, told?: Told, type?: string): Day {
  const student = day.students.get(studentId)
  if (!student || !day.opened) return told ? stray(day, type ?? 'unknownStudent', told, studentId) : day
  const next = change(student)
  if (next === student) return day
  if (!('wants' in next)) return { ...day, students: withEntry(day.students, studentId, next) }
  const { to, wants } = next
  const machine = follow(day.opened.machines, to.machine, wants)
  const after = told ? cooling(student, { ...to, machine }, told) : { ...to, machine }
  const students = withEntry(day.students, studentId, after)
  const isStray = told && type && machine === to.machine && !fits(machine, wants)
  return isStray ? stray({ ...day, students }, type, told, studentId) : { ...day, students }
}

function withAttempt(
  day: Day,
  studentId: StudentId,
  attemptId: AttemptId,
  change: (attempt: Attempt) => Attempt,
  told: Told,
  type: string,
  wants?: (before: Attempt) => string | null,
): Day {
  const attempt = day.students.get(studentId)?.attempts.find((one) => one.attemptId === attemptId)
  if (!attempt) return stray(day, type, told, studentId)
  const event = wants?.(attempt)
  return withStudent(
    day,
    studentId,
    (student) => {
      const next = changed({
        ...student,
        attempts: student.attempts.map((one) => (one === attempt ? { ...change(one), revision: one.revision + 1 } : one)),
      })
      return event ? moved(next, { type: event } as StudentEvent) : next
    },
    told,
    type,
  )
}

/** The result was told before the start: nothing of it is lost, and the start fills in what only it knows. Behind the seal it moves nothing of the result. */
function startToldLate(day: Day, known: Attempt, event: DayEventOf<'attemptStarted'>, told: Told): Day {
  if (known.started || known.stationId !== event.stationId) return stray(day, 'attemptStarted', told, event.studentId)
  return touched(day, event.studentId, event.attemptId, (attempt) => ({
    ...attempt,
    ...(day.sealed ? { number: event.number } : pick(event)),
    started: told,
    reviewIds: event.reviewId ? [...attempt.reviewIds, event.reviewId] : attempt.reviewIds,
    revision: attempt.revision + 1,
  }))
}

/** Changes an attempt that may have gone elsewhere meanwhile; nothing moves in the student's day. */
function touched(day: Day, studentId: StudentId, attemptId: AttemptId, change: (attempt: Attempt) => Attempt): Day {
  return withStudent(day, studentId, (student) =>
    changed({ ...student, attempts: student.attempts.map((one) => (one.attemptId === attemptId ? change(one) : one)) }),
  )
}

function withRunner(day: Day, waveId: string, studentId: StudentId, change: (attempt: Attempt) => Attempt, told: Told, type: string): Day {
  const attempt = day.students.get(studentId)?.attempts.findLast((one) => one.waveId === waveId && one.status !== 'reassigned')
  return attempt ? withAttempt(day, studentId, attempt.attemptId, change, told, type) : stray(day, type, told, studentId)
}

function withStop(day: Day, studentId: StudentId, change: (stop: NonNullable<Student['stop']>) => Student['stop']): Day {
  return withStudent(day, studentId, (student) => (student.stop ? { ...student, stop: change(student.stop) } : student))
}

function withHold(day: Day, holdId: Hold['holdId'], change: (hold: Hold) => Hold, told: Told): Day {
  const hold = day.holds.get(holdId)
  return hold ? { ...day, holds: withEntry(day.holds, holdId, change(hold)) } : stray(day, 'unknownHold', told)
}

function settled(day: Day, reviewId: DayEventOf<'reviewRuled'>['reviewId'], ruling: DayEventOf<'reviewRuled'>['ruling'], told: Told): Day {
  const review = day.reviews.get(reviewId)
  if (!review) return stray(day, 'unknownReview', told)
  const next = {
    ...day,
    reviews: withEntry(day.reviews, reviewId, { ...review, ruled: { ruling, by: told.personId, at: happenedAt(told) } }),
  }
  return review.about.studentId ? withStudent(next, review.about.studentId, changed) : next
}

function recleared(day: Day, student: Student, clearances: Student['clearances']): Moved {
  const clearance = governing(clearances)
  const barred = barredBy(clearance.limits, day.opened?.rules.stations ?? [])
  const { status } = clearance
  const past = { ...student.past, clearances: [...student.past.clearances, { at: clearances.at(-1)?.at ?? 0, status, barred }] }
  return moved({ ...student, clearances, clearance, past }, { type: 'clearanceGoverns', status, barred })
}

const since = (instant: number): Span => ({ since: instant, until: null })
const over = (spans: readonly Span[], told: Told): readonly Span[] =>
  spans.map((span) => (span.until === null ? { ...span, until: happenedAt(told) } : span))
const cooled = (student: Student, told: Told): Student['past'] => ({ ...student.past, coolDowns: over(student.past.coolDowns, told) })

/** Rulings on one try may differ, each on its own question: the stricter governs. Whether a sighting belongs to a try says nothing of the try. */
function ruledOn(attempt: Attempt, ruling: Ruling, because: ReviewReason | undefined): Attempt['ruling'] {
  const isOnOneSighting = because === 'farApart' || because === 'crossingUnpaired' || because === 'lateAfterSeal'
  if (ruling === 'settled' || (isOnOneSighting && ruling !== 'counts')) return attempt.ruling
  return attempt.ruling && strictness[attempt.ruling] > strictness[ruling] ? attempt.ruling : ruling
}
const strictness = { settled: 0, counts: 1, doesNotCount: 2, retest: 3 } as const

const blank = ({
  attemptId,
  studentId,
  stationId,
  official,
}: Pick<Attempt, 'attemptId' | 'studentId' | 'stationId' | 'official'>): Attempt => ({
  attemptId,
  studentId,
  stationId,
  official,
  number: 0,
  load: null,
  equipmentIds: [],
  waveId: null,
  readingId: null,
  started: null,
  observations: [],
  taps: [],
  finish: null,
  endedAt: null,
  status: 'underWay',
  interruptedBy: null,
  extra: false,
  differenceAcknowledged: false,
  ruling: null,
  reviewIds: [],
  corrections: [],
  revision: 0,
})

const paperOf = (paper: DayEventOf<'crossingRecorded'>['fromPaper']) =>
  paper && { fromPaper: true as const, ...(paper.photoDigest && { sheetPhoto: paper.photoDigest }) }

const pick = ({ stationId, official, number, load, equipmentIds, waveId, readingId }: DayEventOf<'attemptStarted'>) => ({
  stationId,
  official,
  number,
  load,
  equipmentIds,
  waveId,
  readingId,
})

/** A result for a try that nobody saw start: it happened, so it has a place, and waits for a ruling. */
function withUnseenAttempt(day: Day, event: DayEventOf<'resultRecorded'>, told: Told): Day {
  if (!stationOf(day, event.stationId)) return day
  const attempt: Attempt = {
    ...blank(event),
    equipmentIds: event.equipmentIds,
    endedAt: happenedAt(told),
    status: 'recorded',
  }
  return withStudent(
    day,
    event.studentId,
    (student) => ended({ ...student, attempts: [...student.attempts, attempt] }, event.stationId),
    told,
    'resultRecorded',
  )
}

/** A try ended that the machine did not see start: the way after it is due all the same, and a try under way there goes on. */
function ended(student: Student, stationId: StationId): Student | Moved {
  if (attemptsUnderWay(student).some((attempt) => attempt.stationId === stationId)) return student
  return moved(student, { type: `attemptEnded.${stationId}` })
}

/** Two students are touched by a reassignment: the try is given back to one and stands, with its history, at the other. */
function correct(day: Day, { correctionId, studentId, attemptId, change, countersigned }: DayEventOf<'corrected'>, told: Told): Day {
  const student = day.students.get(studentId)
  const attempt = student?.attempts.find((one) => one.attemptId === attemptId)
  if (!student || !attempt) return stray(day, 'corrected', told, studentId)
  const correction: Correction = { correctionId, change, told, countersigned: countersigned?.personId ?? null }
  const noted = touched(day, studentId, attemptId, (one) => ({
    ...one,
    corrections: [...one.corrections, correction],
    revision: one.revision + 1,
    ...(change.kind === 'void' && { status: 'void' as const }),
    // A slip undone and typed again: the later word replaces the earlier one, and the try is one try.
    ...(change.kind === 'value' && one.status === 'void' && { status: 'recorded' as const }),
    // Practice has no number; made official, it is the next of the permitted tries.
    ...(change.kind === 'official' && {
      official: change.official,
      number: change.official ? one.number || triesBefore(student, one) + 1 : 0,
    }),
    ...(change.kind === 'reassign' && { status: 'reassigned' as const }),
  }))
  if (change.kind !== 'reassign') return noted
  const taken: Attempt = {
    ...attempt,
    attemptId: change.newAttemptId,
    studentId: change.toStudentId,
    status: attempt.status === 'underWay' ? 'recorded' : attempt.status,
    corrections: [...attempt.corrections, correction],
    revision: attempt.revision + 1,
  }
  const moving = withStudent(
    noted,
    change.toStudentId,
    (student) =>
      ended(
        changed({ ...student, attempts: [...student.attempts, { ...taken, number: triesBefore(student, attempt) + 1 }] }),
        attempt.stationId,
      ),
    told,
  )
  return { ...moving, reviews: withReviewsOf(moving.reviews, attempt, taken), waves: withRunnerOf(moving.waves, taken) }
}

/** What was open about the try goes with it. */
function withReviewsOf(reviews: Day['reviews'], from: Attempt, to: Attempt): Day['reviews'] {
  return new Map(
    [...reviews].map(([reviewId, review]) => {
      const isAbout = review.about.attemptId === from.attemptId && review.about.studentId === from.studentId
      return [reviewId, isAbout ? { ...review, about: { ...review.about, studentId: to.studentId, attemptId: to.attemptId } } : review]
    }),
  )
}

function withRunnerOf(waves: Day['waves'], { waveId, studentId }: Attempt): Day['waves'] {
  const wave = waveId && waves.get(waveId)
  return wave ? withEntry(waves, waveId, { ...wave, studentIds: [...new Set([...wave.studentIds, studentId])] }) : waves
}

const triesBefore = (student: Student, attempt: Attempt): number =>
  student.attempts.filter(
    (one) => one.stationId === attempt.stationId && one.official && (one.status === 'recorded' || one.status === 'underWay'),
  ).length
