import type { Day, Student } from '@musterbook/day/day'
import { resultOf } from '@musterbook/day/results'
import { safetyView } from '@musterbook/day/views/safety'
import type { Role } from '@musterbook/vocabulary/people'
import type { DayEvent, DayEventOf } from '@musterbook/vocabulary/events'
import type { PinnedStation } from '@musterbook/vocabulary/rules'
import { isOpen, lasted, type EntryFacts, type Facts, type HoldFacts, type StudentFacts, type TryFacts } from './facts.ts'

/*
 * The safety promises, each held against the facts before and after one entry, by code of its own. Each gives sentences
 * that say what is broken; none when it holds.
 */

export interface Step extends EntryFacts {
  /** The facts as they stood before the entry. */
  facts: Facts
  /** How far the site's stream was written when the command was first told, which the decision must have read. */
  siteHeadWhenTold: number
  roles: readonly Role[]
  /** The roles of whoever proposed the lift that this entry confirms. */
  rolesOf: (personId: string | null) => readonly Role[]
  before: Day
  after: Day
  /** Students as they were and as they are, where the entry made them others. */
  changed: readonly (readonly [was: Student, now: Student])[]
}

export interface Broken {
  promise: string
  says: string
}

type Promised = (step: Step) => string[]

const of = <T extends DayEvent['type']>(events: readonly DayEvent[], type: T): DayEventOf<T>[] =>
  events.filter((event): event is DayEventOf<T> => event.type === type)
const flaw = (isBroken: boolean, sentence: string): string[] => (isBroken ? [sentence] : [])

type Start = { event: DayEventOf<'attemptStarted'>; student: StudentFacts; station: PinnedStation; isGranted: boolean; waits: boolean }

/** Starts of students and stations that the day knows. A twin tablet's word on a try that is known is none. */
function startsIn({ events, facts, command }: Step): Start[] {
  return of(events, 'attemptStarted').flatMap((event) => {
    const student = facts.students.get(event.studentId)
    const station = facts.station(event.stationId)
    if (!student || !station || student.tries.get(event.attemptId)?.startedAt != null) return []
    const waits = event.reviewId !== null || of(events, 'reviewOpened').some(({ about }) => about.attemptId === event.attemptId)
    return [{ event, student, station, waits, isGranted: !command?.envelope.decidedOnDevice }]
  })
}

/** What stands against a start: a granted one must have nothing against it; one that had happened must wait for a ruling. */
const eachStart =
  (against: (start: Start, step: Step) => string[]): Promised =>
  (step) =>
    startsIn(step).flatMap((start) => {
      const reasons = against(start, step)
      if (start.isGranted) return reasons.map((reason) => `${start.event.studentId} was let start ${start.event.stationId}: ${reason}`)
      return flaw(
        reasons.length > 0 && !start.waits,
        `${start.event.attemptId} had started out of contact and waits for nobody: ${reasons.join(', ')}`,
      )
    })

const s1 = eachStart(({ event, student, station, isGranted }, { facts, at, bandMs }) => {
  const { prerequisites } = station.protocol
  const known = student.covered
  const then = known.filter((one) => one.at <= at + bandMs)
  const governing = then.filter((one, index) => one.at > at - bandMs || index === then.length - 1 || then[index + 1]!.at > at - bandMs)
  return [
    ...flaw(!facts.coveredStations(student).has(event.stationId), 'no clearance covers it'),
    ...flaw(student.presence !== 'present', `the student is ${student.presence}`),
    ...flaw(prerequisites.includes('warmUp') && student.warmUpAt === null, 'no warm-up'),
    ...flaw(prerequisites.includes('bodyMass') && student.weighedAt === null, 'no body mass'),
    ...flaw(isGranted && facts.asksForObserver(student) && event.observerId === null && event.waveId === null, 'no observer is named'),
    ...flaw(
      !isGranted && (governing.length === 0 || governing.some((one) => !one.stations.has(event.stationId))),
      'no clearance covered it then',
    ),
    ...flaw(!isGranted && prerequisites.includes('warmUp') && (student.warmUpAt ?? Infinity) > at - bandMs, 'no warm-up by then'),
  ]
})

const s2: Promised = (step) => [...s2Holds(step), ...s2Readings(step)]

const s2Holds: Promised = (step) => {
  const { facts, events, at, bandMs, entry } = step
  return startsIn(step).flatMap(({ event, station, isGranted, waits }) => {
    const over = [...facts.holds.values()].filter((hold) => facts.covers(hold, station))
    const inForce = over.filter((hold) => !hold.lifted)
    const [hold] = inForce
    if (isGranted) {
      const isUncertainGun = event.waveId !== null && inForce.every((one) => at - bandMs <= one.raisedAt + one.bandMs)
      const underHold = of(events, 'waveStarted').some((wave) => wave.waveId === event.waveId && wave.underHold !== null)
      return flaw(
        hold !== undefined && !(isUncertainGun && underHold && waits),
        `${event.studentId} was let start ${event.stationId} under ${hold?.holdId} (entry ${entry.version})`,
      )
    }
    const stood = over.find((one) => one.raisedAt - one.bandMs <= at + bandMs && (!one.lifted || one.lifted.at >= at - bandMs))
    return flaw((stood ?? hold) !== undefined && !waits, `${event.attemptId} began under ${(stood ?? hold)?.holdId} and waits for nobody`)
  })
}

const s2Readings = eachStart(({ event, station, isGranted }, { facts, entry, command, siteHeadWhenTold, at }) => {
  if (!facts.rules) return []
  const isOutdoors = facts.isOutdoors(station)
  const now = isGranted ? entry.recordedAt : at
  const policy = facts.rules.heatPolicy as { readingsNeeded?: boolean; readingAgeMinutes?: number } | null
  const newest = Math.max(
    ...facts.readings
      .filter((one) => one.usable && one.settled && one.wbgtTenths !== null && one.method !== 'estimate')
      .filter((one) => facts.isOutdoorZone(one.zoneId) && one.readAt - one.bandMs <= now)
      .map((one) => one.readAt),
  )
  const radio = facts.radio.get(event.stationId)
  const isConfirmed = radio !== undefined && radio.until >= now && radio.waveId === event.waveId
  const contactAge = command?.envelope.contactAgeMs ?? 0
  return [
    ...flaw(
      isOutdoors && policy?.readingsNeeded === true && !(now - newest <= (policy.readingAgeMinutes ?? 0) * 60_000),
      'no reading is fresh',
    ),
    ...flaw(
      isOutdoors && isGranted && facts.siteVersion < siteHeadWhenTold,
      `the day had read ${facts.siteVersion} of ${siteHeadWhenTold} of its site`,
    ),
    ...flaw(
      (isOutdoors || station.protocol.maximalEffort) && contactAge > facts.rules.contactAgeMs && !isConfirmed,
      `the device was out of contact for ${contactAge} ms`,
    ),
  ]
})

const s3: Promised = ({ facts, events, after }) => [
  ...of(events, 'holdRaised').flatMap((hold) => {
    const there = [...facts.students.values()]
      .flatMap((student) => facts.underWay(student))
      .filter((one) => {
        const station = facts.station(one.stationId)
        return station !== undefined && facts.covers(hold, station)
      })
    const listed = hold.underWay.map((one) => one.attemptId as string)
    const shown = safetyView(after).holds.find((one) => one.holdId === hold.holdId)
    const told = after.holds.get(hold.holdId)?.heard
    return [
      ...there.flatMap((one) => flaw(!listed.includes(one.attemptId), `${hold.holdId} does not list ${one.attemptId}`)),
      ...flaw(listed.length > there.length, `${hold.holdId} lists who is not there`),
      ...[...after.devices.keys()].flatMap((deviceId) =>
        flaw(!told?.has(deviceId) && !shown?.notHeard.includes(deviceId), `${deviceId} has not heard ${hold.holdId} and is not listed`),
      ),
    ]
  }),
  ...of(events, 'holdDisposed').flatMap(({ holdId, disposition, studentIds }) => {
    if (disposition === 'finishTheRun') return []
    return studentIds.flatMap((studentId) => [
      ...flaw(
        !of(events, 'attemptInterrupted').some((one) => one.studentId === studentId),
        `${holdId} stopped ${studentId} without an outcome`,
      ),
      ...flaw(!of(events, 'retestGranted').some((one) => one.studentId === studentId), `${holdId} stopped ${studentId} without a retest`),
    ])
  }),
  ...of(events, 'holdLifted').flatMap(({ holdId }) => {
    const hold = facts.holds.get(holdId)
    return [...facts.students.values()].flatMap((student) =>
      facts
        .underWay(student)
        .flatMap((one) =>
          flaw(
            hold !== undefined && hold.listed.includes(one.attemptId) && !hold.chosen.has(student.studentId),
            `${holdId} was lifted and nothing was chosen for ${one.attemptId}`,
          ),
        ),
    )
  }),
]

const s4: Promised = (step) => [
  ...of(step.events, 'holdLifted').flatMap(({ holdId }) => liftFlaws(step, holdId)),
  ...[...step.before.holds.values()].flatMap(({ holdId, lifted }) => {
    const isGone = !step.after.holds.has(holdId) || (!lifted && step.after.holds.get(holdId)?.lifted)
    return flaw(!!isGone && !of(step.events, 'holdLifted').some((one) => one.holdId === holdId), `${holdId} went away by itself`)
  }),
]

function liftFlaws({ facts, command, entry, roles, rolesOf }: Step, holdId: string): string[] {
  const hold = facts.holds.get(holdId)
  const by = entry.meta.personId
  if (!hold) return [`${holdId} was lifted and never raised`]
  const { proposal } = hold
  if (command?.act !== 'confirmLift' || !by) return [`${holdId} was lifted by no person`]
  if (!proposal) return [`${holdId} was lifted and nobody proposed it`]
  return [
    ...flaw(proposal.by === by, `${holdId} was lifted by one person`),
    ...flaw(!rolesOf(proposal.by).includes('safety'), `the lift of ${holdId} was proposed by no safety officer`),
    ...flaw(!roles.some((role) => role === 'safety' || role === 'supervisor' || role === 'coordinator'), `${by} may not lift ${holdId}`),
    ...evidenceFlaws(facts, hold, proposal, entry.recordedAt),
  ]
}

function evidenceFlaws(facts: Facts, hold: HoldFacts, proposal: NonNullable<HoldFacts['proposal']>, now: number): string[] {
  const raised = hold.raisedAt + hold.bandMs
  const name = `${hold.holdId} was lifted`
  if (hold.kind === 'heat') {
    const policy = facts.rules?.heatPolicy as unknown as { lift: { tenths: number; included: boolean } }
    const reading = facts.readings.find((one) => one.readingId === proposal.readingId)
    if (!reading) return [`${name} on no reading`]
    const tenths = reading.wbgtTenths ?? Infinity
    return [
      ...flaw(!reading.settled || !reading.usable || reading.method === 'estimate', `${name} on a reading that had not settled`),
      ...flaw(reading.readAt - reading.bandMs < raised, `${name} on a reading older than itself`),
      ...flaw(!(tenths < policy.lift.tenths || (policy.lift.included && tenths === policy.lift.tenths)), `${name} at ${tenths} tenths`),
      ...flaw(
        hold.zoneId === null ? !facts.isOutdoorZone(reading.zoneId) : reading.zoneId !== hold.zoneId,
        `${name} on a reading elsewhere`,
      ),
    ]
  }
  if (hold.kind === 'lightning') {
    const seen = facts.hazards.filter(({ kind }) => kind === 'thunder' || kind === 'flash').map((one) => one.at + one.bandMs)
    const last = Math.max(raised, ...seen)
    return flaw(now - last < (facts.rules?.lightningMinutes ?? 0) * 60_000, `${name} ${now - last} ms after the last thunder`)
  }
  if (hold.kind === 'air' || hold.kind === 'cold') {
    const kind = hold.kind === 'air' ? 'airIndex' : 'windChill'
    const since = facts.hazards.filter((one) => one.kind === kind && one.at - one.bandMs > raised)
    const newest = Math.max(...since.map(({ at }) => at))
    const value = since.findLast(({ at }) => at === newest)?.value ?? null
    const { airHoldFrom = 0, coldHoldAtTenthsDegC = 0 } = facts.rules ?? {}
    return [
      ...flaw(value === null, `${name} without a new observation`),
      ...flaw(value !== null && (hold.kind === 'air' ? value >= airHoldFrom : value <= coldHoldAtTenthsDegC), `${name} at ${value}`),
    ]
  }
  return flaw(!proposal.hasReason, `${name} without a reason`)
}

const s5: Promised = (step) => {
  const { facts, events, after, command, roles } = step
  const body = (command?.body ?? {}) as { studentId?: string }
  const isStop = command?.act === 'stopStudent'
  const stopped = isStop && body.studentId ? facts.students.get(body.studentId) : undefined
  return [
    ...flaw(
      (isStop || command?.act === 'raiseHold') && facts.rules !== null && of(events, 'actRefused').length > 0,
      `${command?.act} was refused`,
    ),
    ...flaw(stopped !== undefined && of(events, 'studentStopped').length === 0, `${body.studentId} was stopped and the day holds no stop`),
    ...(stopped ? facts.underWay(stopped) : []).flatMap((one) =>
      flaw(!of(events, 'attemptInterrupted').some((event) => event.attemptId === one.attemptId), `${one.attemptId} goes on under a stop`),
    ),
    ...eachStart(({ student, isGranted }, { at, bandMs }) =>
      flaw(isOpen(student.stops) || (!isGranted && lasted(student.stops, at - bandMs, at + bandMs)), 'a stop is in force'),
    )(step),
    ...of(events, 'studentRestored').flatMap(({ studentId }) =>
      flaw(!roles.includes('screener'), `${studentId} was restored by no screener`),
    ),
    ...step.changed.flatMap(([was, now]) =>
      flaw(
        (was.stop !== null) !== (now.stop !== null) &&
          !events.some(
            (event) => (event.type === 'studentStopped' || event.type === 'studentRestored') && event.studentId === now.studentId,
          ),
        `${now.studentId} was stopped or restored by nobody`,
      ),
    ),
    ...flaw(
      stopped !== undefined && after.students.get(stopped.studentId as never)?.stop == null,
      `${body.studentId} was stopped and does not stand so`,
    ),
  ]
}

const s6: Promised = (step) => {
  const { facts, events } = step
  const isAsked = events.some(({ type }) => type === 'studentSignedOff' || type === 'daySealed' || type === 'headcountTaken')
  const due = isAsked ? [...facts.students.values()].filter((student) => isOpen(student.coolDowns)) : []
  return [
    ...eachStart(({ student, isGranted }, { at, bandMs }) =>
      flaw(isOpen(student.coolDowns) || (!isGranted && lasted(student.coolDowns, at - bandMs, at + bandMs)), 'the cool-down is due'),
    )(step),
    ...of(events, 'studentSignedOff').flatMap((event) =>
      flaw(
        due.some((student) => student.studentId === event.studentId),
        `${event.studentId} left before the cool-down`,
      ),
    ),
    ...of(events, 'daySealed').flatMap(() => (facts.sealed ? [] : due.map((student) => `sealed before ${student.studentId} cooled down`))),
    ...of(events, 'daySealed').flatMap(() =>
      [...(facts.sealed ? [] : facts.students.values())].flatMap((student) =>
        facts.underWay(student).map((one) => `sealed while ${student.studentId} was in ${one.attemptId}`),
      ),
    ),
    ...of(events, 'headcountTaken').flatMap(({ zoneId, present, missing }) =>
      due
        .filter(
          (student) =>
            facts.station([...student.tries.values()].findLast((one) => facts.isRun(one.stationId))?.stationId ?? '')?.zoneId === zoneId,
        )
        .flatMap(({ studentId }) =>
          flaw(
            !present.some((one) => one === studentId) && !missing.some((one) => one === studentId),
            `${studentId} is not missed on the track`,
          ),
        ),
    ),
  ]
}

/** After the entry: the day says that a cool-down is due exactly where a run has ended and nobody has recorded it. */
const s6Stands: Promised = (step) =>
  step.changed.flatMap(([, now]) => {
    const student = step.facts.students.get(now.studentId)
    const shown = (now.machine.value as { coolDown?: string }).coolDown
    return flaw(student !== undefined && isOpen(student.coolDowns) !== (shown === 'due'), `the cool-down of ${now.studentId} is ${shown}`)
  })

const s8: Promised = (step) => [
  ...eachStart(({ event, student, station }, { facts }) => {
    const others = facts.underWay(student).filter((one) => one.attemptId !== event.attemptId)
    return [
      ...flaw(others.length > 0, 'another attempt is under way'),
      ...flaw(event.official && used(facts, student, station, event.attemptId).length >= allowed(student, station), 'the tries are used'),
    ]
  })(step),
]

/** Tries that are surely used: whatever is ruled on, started anew or taken back by a person may give one back. */
const used = (facts: Facts, student: StudentFacts, station: PinnedStation, besides: string): TryFacts[] =>
  [...student.tries.values()].filter(
    (one) =>
      one.attemptId !== besides &&
      one.stationId === station.stationId &&
      one.official &&
      !one.extra &&
      one.startedAt !== null &&
      !one.wasCorrected &&
      !one.isGivenBack &&
      !facts.reviewsOf(one).some((review) => review.ruling === 'retest') &&
      (one.status === 'recorded' || one.status === 'underWay'),
  )

const allowed = (student: StudentFacts, station: PinnedStation): number =>
  station.protocol.tries + student.moreTries.filter((stationId) => stationId === station.stationId).length

/** After the entry: what the results rest on that it may have moved. */
const s8Counts: Promised = (step) => {
  const { facts, after, events } = step
  return step.changed.flatMap(([, now]) => {
    const student = facts.students.get(now.studentId)
    if (!student) return []
    return stationsMovedBy(events, facts, student).flatMap((station) => restsOnFlaws(facts, after, student, station))
  })
}

/** What every result of the day rests on. */
export const restingFlaws = (facts: Facts, day: Day): string[] =>
  [...facts.students.values()].flatMap((student) =>
    (facts.rules?.stations ?? []).flatMap((station) => restsOnFlaws(facts, day, student, station)),
  )

function stationsMovedBy(events: readonly DayEvent[], facts: Facts, student: StudentFacts): PinnedStation[] {
  const moved = new Set<string>()
  for (const event of events) {
    if ('attemptId' in event && event.attemptId) moved.add(student.tries.get(event.attemptId)?.stationId ?? '')
    if (event.type === 'reviewOpened' && event.about.attemptId) moved.add(student.tries.get(event.about.attemptId)?.stationId ?? '')
    if (event.type === 'reviewRuled' || event.type === 'reviewSettled') {
      moved.add(student.tries.get(facts.reviews.get(event.reviewId)?.attemptId ?? '')?.stationId ?? '')
    }
    if (event.type === 'corrected' && event.change.kind === 'reassign') {
      moved.add(student.tries.get(event.change.newAttemptId)?.stationId ?? '')
    }
    if (event.type === 'retestGranted') for (const stationId of event.stationIds) moved.add(stationId)
  }
  return facts.rules?.stations.filter((station) => moved.has(station.stationId)) ?? []
}

/** Run again through nobody's fault, or by ruling, a try is given back. */
function restsOnFlaws(facts: Facts, day: Day, student: StudentFacts, station: PinnedStation): string[] {
  const now = day.students.get(student.studentId as never)
  if (!now?.attempts.some((attempt) => attempt.stationId === station.stationId)) return []
  const result = resultOf(day, now, station)
  if (result.amount === null) return []
  const sources = new Set(result.working.flatMap((line) => line.sources))
  const counted = [...student.tries.values()].filter((one) => one.stationId === station.stationId && sources.has(one.attemptId))
  // What a person has corrected is that person's judgement, by name.
  const unruled = counted.filter((one) => !isRuledIn(facts, one) && !one.wasCorrected)
  return [
    ...counted.flatMap((one) => countingFlaws(facts, one)),
    ...unruled.flatMap((one) => unruledFlaws(facts, student, station, one)),
    ...flaw(unruled.length > allowed(student, station), `${unruled.length} tries of ${now.studentId} count at ${station.stationId}`),
  ]
}

/** Somebody has looked at what stood against it and said so. */
const isRuledIn = (facts: Facts, one: TryFacts): boolean =>
  facts.reviewsOf(one).some((review) => review.ruling === 'counts' || review.ruling === 'settled')

function countingFlaws(facts: Facts, one: TryFacts): string[] {
  const reviews = facts.reviewsOf(one)
  return [
    ...flaw(!one.official, `${one.attemptId} is a practice and counts`),
    ...flaw(
      one.status === 'void' || one.status === 'reassigned' || one.status === 'released',
      `${one.attemptId} is ${one.status} and counts`,
    ),
    ...flaw(
      reviews.some(
        ({ because, isLate, ruling }) =>
          because !== 'farApart' && because !== 'crossingUnpaired' && !isLate && (ruling === 'doesNotCount' || ruling === 'retest'),
      ),
      `${one.attemptId} was ruled out and counts`,
    ),
    ...flaw(
      one.status === 'interrupted' && !reviews.some(({ ruling }) => ruling === 'counts'),
      `${one.attemptId} was interrupted and counts`,
    ),
    ...flaw(
      reviews.some((review) => review.isOpen && !review.isLate && !showsMeanwhile.has(review.because)),
      `${one.attemptId} waits for a ruling and counts`,
    ),
  ]
}

/** Open, these hold nothing back: the value shows and is marked. */
const showsMeanwhile = new Set(['readingsDiffer', 'equipmentOutOfTolerance', 'readBackDisputed'])

/** What counts without anybody's ruling began cleared, under no hold, and nobody was stopped. */
function unruledFlaws(facts: Facts, student: StudentFacts, station: PinnedStation, one: TryFacts): string[] {
  const { attemptId, startedAt, endedAt } = one
  if (startedAt === null) return [`nobody saw ${attemptId} start and it counts`]
  const first = student.covered.find(({ stations }) => stations.has(one.stationId))
  const until = endedAt ?? startedAt
  // What was heard of behind the seal has asked about it, and takes nothing from a sealed result before somebody rules.
  const askedLate = (because: string) => facts.reviewsOf(one).some((review) => review.isLate && review.because === because)
  const held = [...facts.holds.values()].find(
    (hold) => facts.covers(hold, station) && hold.raisedAt - hold.bandMs <= until && (!hold.lifted || hold.lifted.at >= startedAt),
  )
  return [
    ...flaw(one.extra, `${attemptId} is an extra and counts`),
    ...flaw(one.isDecidedAlone && (!first || first.at > startedAt), `${attemptId} counts and began uncleared`),
    ...flaw(held !== undefined && until >= startedAt && !askedLate('ranUnderHold'), `${attemptId} counts and ran under ${held?.holdId}`),
    ...flaw(
      student.stops.some((stop) => stop.place > one.startPlace && stop.from < until) && !askedLate('stopped'),
      `${attemptId} counts and its student had been stopped`,
    ),
  ]
}

const s9: Promised = ({ events, facts, entry, command, ...step }) => [
  ...of(events, 'corrected').flatMap(({ studentId, attemptId, countersigned, reason }) => {
    const student = facts.students.get(studentId)
    const isFinal = facts.sealed !== null || student?.presence === 'complete'
    return [
      ...flaw(!entry.meta.personId || !reason, `${attemptId} was corrected by nobody, or for no reason`),
      ...flaw(!student?.tries.has(attemptId), `a correction names ${attemptId}, which is not there`),
      ...flaw(
        isFinal && (!countersigned || countersigned.personId === command?.by.personId),
        `${studentId}'s final record was changed by one person`,
      ),
    ]
  }),
  ...flaw(
    step.after.refusals.length < step.before.refusals.length || step.after.readings.length < step.before.readings.length,
    'a refusal or a reading went away',
  ),
  ...step.changed.flatMap(([was, now]) => [
    ...flaw(
      was.weighIns.some((one, index) => now.weighIns[index] !== one),
      `a weighing of ${now.studentId} was changed`,
    ),
    ...was.attempts.flatMap((attempt, index) => {
      const then = now.attempts[index]
      const isKept =
        then?.attemptId === attempt.attemptId &&
        attempt.observations.every((one, number) => then.observations[number] === one) &&
        attempt.taps.every((one, number) => then.taps[number]?.told === one.told && then.taps[number].elapsedMs === one.elapsedMs) &&
        attempt.corrections.every((one, number) => then.corrections[number] === one)
      return flaw(!isKept, `what was observed of ${attempt.attemptId} was changed`)
    }),
  ]),
]

/** After the entry: behind the seal only people's own judgements move a result. */
const s10: Promised = (step) => {
  const { facts, entry, events, command, before, after } = step
  const isAfter = entry.stream.startsWith('after/')
  if (!facts.sealed) return flaw(isAfter, `${entry.stream} was written to before the seal`)
  if (!isAfter) return [`${entry.stream} went on behind its seal`]
  const [first] = events
  const carries = first?.type === 'afterOpened' && first.sealedVersion === facts.sealed.version && first.sealedHash === facts.sealed.hash
  const mayMove = ['correct', 'rule', 'changeNormGroup', 'grantRetest', 'reopen']
  const isLate = !facts.reopened && !mayMove.includes(command?.act ?? '')
  const measures = ['recordResult', 'recordCrossing', 'weigh'].includes(command?.act ?? '')
  const moved = isLate
    ? step.changed.flatMap(([was, now]) =>
        (before.opened?.rules.stations ?? []).flatMap((station) => {
          const [then, now_] = [resultOf(before, was, station).amount, resultOf(after, now, station).amount]
          return flaw(
            then !== now_,
            `${command?.act} moved ${station.stationId} of ${now.studentId} behind the seal, from ${then} to ${now_}`,
          )
        }),
      )
    : []
  return [
    ...flaw(facts.afterVersion === 0 && !carries, 'the first entry behind the seal does not carry it'),
    ...flaw(measures && !events.some((event) => event.type === 'reviewOpened'), `${command?.act} came behind the seal and asks nobody`),
    ...moved,
  ]
}

function changedStudents(before: Day, after: Day): Step['changed'] {
  const changed: [Student, Student][] = []
  if (before.students === after.students) return changed
  for (const was of before.students.values()) {
    const now = after.students.get(was.studentId)
    if (now && now !== was) changed.push([was, now])
  }
  return changed
}

const beforeEntry = Object.entries({ S1: s1, S2: s2, S3: s3, S4: s4, S5: s5, S6: s6, S8: s8, S9: s9, S10: s10 })
const afterEntry = Object.entries({ S6: s6Stands, S8: s8Counts })

function all(promised: readonly (readonly [string, Promised])[], step: Step): Broken[] {
  const broken: Broken[] = []
  for (const [promise, breaks] of promised) for (const says of breaks(step)) broken.push({ promise, says })
  return broken
}

/** One entry, held against the facts before it; then the facts follow, and what stands is held against them. */
export function judge(seen: Omit<Step, 'changed'>): Broken[] {
  const step: Step = { ...seen, changed: changedStudents(seen.before, seen.after) }
  const broken = all(beforeEntry, step)
  step.facts.follow(step)
  return [...broken, ...all(afterEntry, step)]
}
