import {
  attemptsUnderWay,
  holdsOver,
  isOutdoors,
  shape,
  stationOf,
  type Attempt,
  type Day,
  type Hold,
  type Student,
} from '@musterbook/day/day'
import type { Told } from '@musterbook/day/controls'
import { resultOf } from '@musterbook/day/results'
import { triesAllowed, triesUsed } from '@musterbook/day/attempt/may-start'
import { happenedAt } from '@musterbook/vocabulary/envelope'
import type { DayEvent, DayEventOf } from '@musterbook/vocabulary/events'

/*
 * The safety promises as a reader of the ledger would check them: from the events and the day before and after, written
 * without the rules that decide. Each gives sentences that say what is broken; none when it holds.
 */

export interface Step {
  before: Day
  after: Day
  told: Told | null
  events: readonly DayEvent[]
}

type Promised = (step: Step) => string[]

const of = <T extends DayEvent['type']>(events: readonly DayEvent[], type: T): DayEventOf<T>[] =>
  events.filter((event): event is DayEventOf<T> => event.type === type)

/** Starts that the day granted. What a device out of contact let happen is an observation: it may only wait. */
const granted = ({ events, told, before }: Step) =>
  of(events, 'attemptStarted').filter((event) => !told?.command.envelope.decidedOnDevice && before.students.has(event.studentId))

const flaw = (isBroken: boolean, sentence: string): string[] => (isBroken ? [sentence] : [])

/** S1: by the facts of the student, not by the machine. */
export const clearedAndPrepared: Promised = (step) =>
  granted(step).flatMap(({ studentId, stationId }) => {
    const student = step.before.students.get(studentId)!
    const station = stationOf(step.before, stationId)!
    const standing = student.clearances
    const names = station.protocol.prerequisites
    return [
      ...flaw(standing.length === 0, `${studentId} started ${stationId} before any clearance`),
      ...flaw(
        standing.some(({ status }) => status !== 'cleared' && status !== 'limited'),
        `${studentId} started ${stationId} over a stricter clearance`,
      ),
      ...flaw(
        standing.some(({ limits }) =>
          limits.some(
            (limit) =>
              (limit.kind === 'notAtStation' && limit.stationId === stationId) ||
              (limit.kind === 'noMaximalLift' && station.protocol.kind === 'loaded'),
          ),
        ),
        `${studentId} started ${stationId} against a limit`,
      ),
      ...flaw(names.includes('warmUp') && student.warmUpAt === null, `${studentId} started ${stationId} without a warm-up`),
      ...flaw(names.includes('bodyMass') && student.weighIns.length === 0, `${studentId} started ${stationId} without a body mass`),
      ...flaw(student.checkedInAt === null, `${studentId} started ${stationId} without having come`),
    ]
  })

/** S1, S2, S5, S6 for what a device out of contact let start: whatever stood against it then, it waits for a ruling. */
export const lateStartsWait: Promised = ({ before, events, told }) =>
  of(events, 'attemptStarted').flatMap(({ studentId, stationId, attemptId }) => {
    const { envelope } = told!.command
    const student = before.students.get(studentId)
    const station = stationOf(before, stationId)
    if (!envelope.decidedOnDevice || !student || !station || student.attempts.some((one) => one.attemptId === attemptId)) return []
    const began = happenedAt(envelope)
    const within = ({ since, until }: { since: number; until: number | null }) => since <= began && (until === null || until >= began)
    const held = [...before.holds.values()].some(
      (hold) =>
        (hold.zoneId === null ? isOutdoors(before, station) : hold.zoneId === station.zoneId) &&
        within({ since: happenedAt(hold.raised), until: hold.lifted?.at ?? null }),
    )
    const first = student.past.clearances.find((one) => one.status === 'cleared' || one.status === 'limited')
    const against = [
      ...flaw(held, 'under a hold'),
      ...flaw(student.past.stops.some(within), 'under a stop'),
      ...flaw(student.past.coolDowns.some(within), 'before the cool-down'),
      ...flaw(!first || first.at > began, 'uncleared'),
      ...flaw(station.protocol.prerequisites.includes('warmUp') && (student.warmUpAt ?? Infinity) > began, 'without a warm-up'),
    ]
    const waits = of(events, 'reviewOpened').some((review) => review.about.attemptId === attemptId)
    return flaw(against.length > 0 && !waits, `${attemptId} started ${against.join(', ')} and waits for nobody`)
  })

/** S2: holds, readings, contact, knowledge of the site. */
export const noOutdoorStartUnheeded: Promised = (step) =>
  granted(step).flatMap(({ stationId, waveId, attemptId }) => {
    const { before, told } = step
    const station = stationOf(before, stationId)!
    if (!isOutdoors(before, station)) return []
    const { envelope } = told!.command
    const wave = of(step.events, 'waveStarted').find((one) => one.waveId === waveId)
    const hold = holdsOver(before, station)[0]
    const now = told!.command.envelope
    const newest = before.readings
      .filter(
        (reading) =>
          reading.usable &&
          reading.wbgtTenths !== null &&
          before.opened!.rules.zones.find((zone) => zone.zoneId === reading.zoneId)?.outdoor,
      )
      .map((reading) => reading.readAt)
    const age = step.after.version === before.version ? 0 : recordedAt(step) - Math.max(...newest)
    const radio = before.radio.get(stationId)
    return [
      ...flaw(hold !== undefined && !wave?.underHold, `${attemptId} was granted under ${hold?.holdId}`),
      ...flaw(
        hold !== undefined && !of(step.events, 'reviewOpened').some((review) => review.about.attemptId === attemptId),
        `${attemptId} runs under ${hold?.holdId} and waits for nobody`,
      ),
      ...flaw(hold !== undefined && clearlyAfter(now, hold), `${attemptId} started clearly after ${hold?.holdId}`),
      ...flaw(newest.length === 0 || age > 30 * 60_000, `${attemptId} was granted on a reading ${age} ms old`),
      ...flaw(
        envelope.contactAgeMs > 300_000 && !(radio && radio.until >= recordedAt(step)),
        `${attemptId} was granted ${envelope.contactAgeMs} ms out of contact`,
      ),
    ]
  })

const recordedAt = ({ after }: Step): number => Math.max(...[...after.devices.values()].map((device) => device.lastHeardAt))

const clearlyAfter = (gun: { occurredAt: number; offsetMs: number; bandMs: number }, { raised }: Hold): boolean =>
  happenedAt(gun) - gun.bandMs > happenedAt(raised) + raised.bandMs

/** S3: everyone under way in its zone is listed at once, and an outcome stays due until it is recorded. */
export const holdsListEveryone: Promised = ({ before, after, events }) => [
  ...of(events, 'holdRaised').flatMap((hold) => {
    const there = [...before.students.values()].flatMap((student) =>
      attemptsUnderWay(student).filter(({ stationId }) => {
        const station = stationOf(before, stationId)
        return station && (hold.zoneId === null ? isOutdoors(before, station) : station.zoneId === hold.zoneId)
      }),
    )
    const listed = hold.underWay.map((one) => one.attemptId)
    return there.flatMap(({ attemptId }) => flaw(!listed.includes(attemptId), `${hold.holdId} does not list ${attemptId}`))
  }),
  ...of(events, 'holdLifted').flatMap(({ holdId }) => {
    const hold = before.holds.get(holdId)!
    return hold.underWay.flatMap(({ studentId, attemptId }) => {
      const attempt = before.students.get(studentId)?.attempts.find((one) => one.attemptId === attemptId)
      const chosen = hold.disposed?.studentIds.includes(studentId) ?? false
      return flaw(attempt?.status === 'underWay' && !chosen, `${holdId} was lifted and nothing was chosen for ${attemptId}`)
    })
  }),
  ...of(events, 'holdDisposed').flatMap(({ holdId, disposition, studentIds }) =>
    disposition === 'finishTheRun'
      ? []
      : studentIds.flatMap((studentId) => {
          const student = after.students.get(studentId)!
          return [
            ...flaw(
              !of(events, 'attemptInterrupted').some((one) => one.studentId === studentId && one.holdId === holdId),
              `${studentId} has no outcome`,
            ),
            ...flaw(
              !of(events, 'retestGranted').some((one) => one.studentId === studentId && one.because === 'hold'),
              `${studentId} has no entitlement`,
            ),
            ...flaw(
              student.attempts.some((one) => one.interruptedBy?.by === 'hold' && isCountingUnruled(after, student, one)),
              `${studentId} scores what a hold interrupted`,
            ),
          ]
        }),
  ),
]

/** S4: never by software or a device; two people; the evidence of its kind. */
export const liftsNeedTwoAndEvidence: Promised = (step) =>
  of(step.events, 'holdLifted').flatMap(({ holdId, proposedBy, readingId }) => {
    const { before, told } = step
    const hold = before.holds.get(holdId)!
    const raised = happenedAt(hold.raised) + hold.raised.bandMs
    const reading = before.readings.find((one) => one.readingId === readingId)
    const { by } = told!.command
    const since = before.hazards.filter((hazard) => happenedAt(hazard.told) > raised)
    const strikes = before.hazards.filter(({ kind }) => kind === 'thunder' || kind === 'flash').map((hazard) => happenedAt(hazard.told))
    const heat = hold.kind === 'heat'
    return [
      ...flaw(told === null || by.personId === null, `${holdId} was lifted by nobody`),
      ...flaw(by.personId === proposedBy, `${holdId} was lifted by one person`),
      ...flaw(hold.proposal?.by !== proposedBy, `${holdId} names another proposer`),
      ...flaw(heat && (!reading || !reading.settled || !reading.usable), `${holdId} was lifted on no settled reading`),
      ...flaw(heat && (reading?.readAt ?? 0) < raised + 15 * 60_000, `${holdId} was lifted on a reading before the dwell`),
      ...flaw(heat && (reading?.wbgtTenths ?? 999) >= 280, `${holdId} was lifted at ${reading?.wbgtTenths}`),
      ...flaw(heat && reading?.zoneId === 'gym' && hold.zoneId !== 'gym', `${holdId} was lifted by a reading of the gym`),
      ...flaw(
        hold.kind === 'lightning' && recordedAt(step) - Math.max(raised, ...strikes) < 30 * 60_000,
        `${holdId} was lifted after lightning`,
      ),
      ...flaw(hold.kind === 'cold' && !since.some(({ kind }) => kind === 'windChill'), `${holdId} was lifted without a wind chill`),
      ...flaw(hold.kind === 'air' && !since.some(({ kind }) => kind === 'airIndex'), `${holdId} was lifted without an air index`),
    ]
  })

/** S4: a hold that stood stands, unless this entry lifts it. */
export const holdsStayUntilLifted: Promised = ({ before, after, events }) =>
  [...before.holds.values()].flatMap(({ holdId, lifted }) => {
    const now = after.holds.get(holdId)
    const isGone = !now || (now.lifted !== null && lifted === null && !of(events, 'holdLifted').some((one) => one.holdId === holdId))
    return flaw(isGone, `${holdId} went away by itself`)
  })

/** S5: stops and holds are always taken, whoever tells them; a stopped student starts nothing, and a screener restores. */
export const stopsHold: Promised = (step) => {
  const { before, after, events, told } = step
  const act = told?.command.act
  const studentId = (told?.command.body as { studentId?: Student['studentId'] } | undefined)?.studentId
  const known = studentId !== undefined && before.students.has(studentId)
  return [
    ...flaw(act === 'stopStudent' && before.opened !== null && told?.refused !== undefined, 'a stop was refused'),
    ...flaw(act === 'raiseHold' && before.opened !== null && told?.refused !== undefined, 'a hold was refused'),
    ...flaw(
      act === 'stopStudent' &&
        known &&
        (after.students.get(studentId)?.stop === null || attemptsUnderWay(after.students.get(studentId)).length > 0),
      `${studentId} was stopped and goes on`,
    ),
    ...granted(step).flatMap((one) => flaw(before.students.get(one.studentId)!.stop !== null, `${one.studentId} started under a stop`)),
    ...of(events, 'studentRestored').flatMap((one) =>
      flaw(act === 'restore' && !told!.command.by.roles.includes('screener'), `${one.studentId} was restored by no screener`),
    ),
    ...[...before.students.values()].flatMap((student) =>
      flaw(
        student.stop !== null && after.students.get(student.studentId)?.stop === null && of(events, 'studentRestored').length === 0,
        `${student.studentId} was restored by nobody`,
      ),
    ),
  ]
}

/** S6: a run that is over makes the cool-down due; nothing starts and nobody leaves before it is recorded. */
export const coolDownAfterEveryRun: Promised = (step) => [
  ...granted(step).flatMap((one) =>
    flaw(shape(step.before.students.get(one.studentId)!).coolDown === 'due', `${one.studentId} started before the cool-down`),
  ),
  ...of(step.events, 'studentSignedOff').flatMap((one) =>
    flaw(shape(step.before.students.get(one.studentId)!).coolDown === 'due', `${one.studentId} left before the cool-down`),
  ),
  ...[...step.after.students.values()].flatMap((student) => {
    const ended = student.attempts.filter(
      (attempt) =>
        stationOf(step.after, attempt.stationId)?.protocol.kind === 'run' && isOver(attempt) && wasUnderWay(step.before, attempt),
    )
    const recorded = of(step.events, 'coolDownConfirmed').length + of(step.events, 'coolDownExcused').length > 0
    return flaw(ended.length > 0 && !recorded && shape(student).coolDown !== 'due', `${student.studentId} ran and no cool-down is due`)
  }),
  ...of(step.events, 'daySealed').flatMap(() =>
    step.before.sealed
      ? []
      : [...step.before.students.values()].flatMap((student) =>
          flaw(shape(student).coolDown === 'due', `sealed before ${student.studentId} cooled down`),
        ),
  ),
]

const isOver = ({ status }: Attempt): boolean => status === 'recorded' || status === 'interrupted'
const wasUnderWay = (day: Day, { studentId, attemptId }: Attempt): boolean =>
  day.students.get(studentId)?.attempts.find((attempt) => attempt.attemptId === attemptId)?.status === 'underWay'

/** S8: one at a time, within the number, practice never. */
export const onlyValidTriesCount: Promised = (step) => [
  ...granted(step).flatMap(({ studentId, stationId, official, attemptId }) => {
    const student = step.before.students.get(studentId)!
    const station = stationOf(step.before, stationId)!
    return [
      ...flaw(attemptsUnderWay(student).length > 0, `${studentId} is in two attempts`),
      ...flaw(official && triesUsed(student, station) >= triesAllowed(student, station), `${attemptId} is a try too many`),
    ]
  }),
  ...counting(step.after).flatMap(({ attempt }) => [
    ...flaw(!attempt.official, `${attempt.attemptId} is a practice and counts`),
    ...flaw(
      attempt.status === 'void' || attempt.status === 'reassigned' || attempt.status === 'released',
      `${attempt.attemptId} is ${attempt.status} and counts`,
    ),
    ...flaw(attempt.ruling === 'doesNotCount' || attempt.ruling === 'retest', `${attempt.attemptId} was ruled out and counts`),
    ...flaw(attempt.status === 'interrupted' && attempt.ruling !== 'counts', `${attempt.attemptId} was interrupted and counts`),
  ]),
  ...[...step.after.students.values()].flatMap((student) =>
    (step.after.opened?.rules.stations ?? []).flatMap((station) => {
      const unruled = counting(step.after).filter(
        (one) => one.student === student && one.attempt.stationId === station.stationId && one.attempt.ruling !== 'counts',
      )
      return flaw(
        unruled.length > triesAllowed(student, station),
        `${unruled.length} tries of ${student.studentId} count at ${station.stationId}`,
      )
    }),
  ),
]

/** Tries that the day's own results rest on, as their working names them. */
function counting(day: Day): { student: Student; attempt: Attempt }[] {
  return [...day.students.values()].flatMap((student) =>
    (day.opened?.rules.stations ?? []).flatMap((station) => {
      const result = resultOf(day, student, station)
      if (result.amount === null) return []
      const sources = new Set(result.working.flatMap((line) => line.sources))
      return student.attempts
        .filter((attempt) => attempt.stationId === station.stationId && sources.has(attempt.attemptId))
        .map((attempt) => ({ student, attempt }))
    }),
  )
}

const isCountingUnruled = (day: Day, student: Student, attempt: Attempt): boolean =>
  attempt.ruling !== 'counts' && counting(day).some((one) => one.student === student && one.attempt === attempt)

/** S9: what was observed stays as it was observed: values, taps, weighings, clearances, refusals, corrections, readings. */
export const nothingIsEdited: Promised = ({ before, after }) => [
  ...flaw(after.refusals.length < before.refusals.length, 'a refusal went away'),
  ...flaw(
    before.readings.some((reading, index) => after.readings.at(index) !== reading),
    'a reading was changed',
  ),
  ...flaw(
    before.anomalies.some((anomaly, index) => after.anomalies.at(index) !== anomaly),
    'an anomaly went away',
  ),
  ...flaw(
    [...before.reviews.keys()].some((reviewId) => !after.reviews.has(reviewId)),
    'a review went away',
  ),
  ...[...before.students.values()].flatMap((student) => {
    const now = after.students.get(student.studentId)
    if (!now) return [`${student.studentId} went away`]
    return [
      ...flaw(
        student.weighIns.some((one, index) => now.weighIns[index] !== one),
        `a weighing of ${student.studentId} was changed`,
      ),
      ...student.attempts.flatMap((attempt) => {
        const then = now.attempts.find((one) => one.attemptId === attempt.attemptId)
        if (!then) return [`${attempt.attemptId} went away`]
        return [
          ...flaw(
            attempt.observations.some((one, index) => then.observations[index] !== one),
            `an observation of ${attempt.attemptId} was changed`,
          ),
          ...flaw(
            attempt.taps.some((tap, index) => !isSameTap(tap, then.taps[index])),
            `a tap of ${attempt.attemptId} was changed`,
          ),
          ...flaw(
            attempt.corrections.some((one, index) => then.corrections[index] !== one),
            `a correction of ${attempt.attemptId} was changed`,
          ),
          ...flaw(isMovedFinish(attempt, then), `the finish of ${attempt.attemptId} moved`),
        ]
      }),
    ]
  }),
]

/** A finish is a fact, unless the touch that made it was taken back. */
const isMovedFinish = ({ finish }: Attempt, then: Attempt): boolean =>
  finish !== null &&
  then.finish?.elapsedMs !== finish.elapsedMs &&
  !then.taps.some((tap) => tap.elapsedMs === finish.elapsedMs && tap.ignored !== null)

/** Whether a tap counts as a lap is a judgement and may change; that it was tapped, when and by whom may not. */
const isSameTap = (tap: Attempt['taps'][number], then: Attempt['taps'][number] | undefined): boolean =>
  tap.observationId === then?.observationId && tap.elapsedMs === then.elapsedMs && tap.inferred === then.inferred && tap.told === then.told

/** S9: a correction of what is final names a second, different person. */
export const finalCorrectionsNameTwo: Promised = ({ before, events, told }) =>
  of(events, 'corrected').flatMap(({ studentId, countersigned }) => {
    const isFinal = before.sealed !== null || before.students.get(studentId)?.signedOffAt !== null
    return flaw(
      isFinal && (!countersigned || countersigned.personId === told?.command.by.personId),
      `${studentId}'s final record was changed by one person`,
    )
  })

/** S10, as far as the day goes: behind the seal only rulings and corrections by two move a result. */
export const sealedResultsMoveByPeopleAlone: Promised = ({ before, after, told }) => {
  if (!before.sealed || !before.opened) return []
  const mayMove = ['correct', 'rule', 'changeNormGroup', 'grantRetest', 'reopen']
  if (before.reopened || mayMove.includes(told?.command.act ?? '')) return []
  return [...before.students.values()].flatMap((student) =>
    before.opened!.rules.stations.flatMap((station) => {
      const was = resultOf(before, student, station)
      const now = resultOf(after, after.students.get(student.studentId)!, station)
      return flaw(
        was.amount !== now.amount,
        `${told?.command.act} moved ${station.stationId} of ${student.studentId} behind the seal from ${was.amount} to ${now.amount}`,
      )
    }),
  )
}
