import { readingAge } from '@musterbook/heat/hold-policy'
import type { HeatPolicy } from '@musterbook/heat/policies'
import { allows } from '@musterbook/student/machine'
import { happenedAt, type Envelope } from '@musterbook/vocabulary/envelope'
import type { PersonId, WaveId } from '@musterbook/vocabulary/ids'
import type { Rule } from '@musterbook/vocabulary/refusals'
import type { PinnedStation } from '@musterbook/vocabulary/rules'
import {
  attemptUnderWay,
  called,
  clockTime,
  heldDuring,
  holdOver,
  isOutdoors,
  shape,
  stationOf,
  zoneOf,
  type Day,
  type Hold,
  type Span,
  type Student,
} from '../day.ts'
import type { Now } from '../decision.ts'

export interface No {
  rule: Rule
  params: Record<string, string | number>
}

/** What a start asks beside the student and the station. */
export interface StartQuestion {
  day: Day
  student: Student
  station: PinnedStation
  official: boolean
  envelope: Pick<Envelope, 'occurredAt' | 'offsetMs' | 'bandMs' | 'contactAgeMs' | 'decidedOnDevice'>
  /** The wave that it starts in; the radio's word names one. */
  waveId?: WaveId
  observerId: PersonId | null
  early: boolean
  now: Now
}

/** Every reason why this student may not start here now, the gravest first. None: the machine of the day says so too. */
export function reasonsAgainst(question: StartQuestion): No[] {
  const standing = [...ofTheStudent(question), ...ofTheDay(question), ...ofTheWay(question), ...ofTheTry(question)]
  const reasons = question.envelope.decidedOnDevice ? [...asItWas(question), ...standing] : standing
  const { day, student, station } = question
  if (reasons.length > 0 || !day.opened) return reasons
  if (!allows(day.opened.machines, student.machine, { type: `attemptStarted.${station.stationId}` })) return [no('notCheckedIn')]
  return []
}

const no = (rule: Rule, params: No['params'] = {}): No => ({ rule, params })

/** S1, S5: may this person start anything, and this at all? */
function ofTheStudent({ day, student, station }: StartQuestion): No[] {
  const state = shape(student)
  const clearance = student.clearance.status
  return [
    ...(state.presence === 'withdrawn' ? [no('withdrawn')] : []),
    ...(state.presence === 'complete' ? [no('afterSignOff')] : []),
    ...(state.presence === 'expected' || state.presence === 'absent' ? [no('notCheckedIn')] : []),
    ...(student.stop ? [no('stopped', { since: clockTime(day, student.stop.since) })] : []),
    ...(student.healthEvent ? [no('healthEventOpen')] : []),
    ...(isCovered(student, station) ? [] : [no('notCleared', { clearance, bib: called(student), station: station.protocol.name })]),
    ...ofTheEntitlement(student, station, day),
  ]
}

/** Does the clearance in force cover this station? The machine holds the stations that it does not. */
export function isCovered(student: Student, station: PinnedStation): boolean {
  const { status } = student.clearance
  const barred = (student.machine.context as { barred: readonly string[] }).barred
  return (status === 'cleared' || status === 'limited') && !barred.includes(station.stationId)
}

function ofTheEntitlement({ retest }: Student, station: PinnedStation, day: Day): No[] {
  if (!retest || !day.opened) return []
  const names = retest.stationIds.map((stationId) => stationOf(day, stationId)?.protocol.name ?? stationId).join(', ')
  return [
    ...(retest.stationIds.includes(station.stationId) ? [] : [no('noRetestThere', { stations: names })]),
    ...(day.opened.facts.date > retest.until ? [no('entitlementEnded', { until: retest.until })] : []),
  ]
}

/** S2: holds, readings, contact. Unknown blocks. */
function ofTheDay(question: StartQuestion): No[] {
  const { day, station } = question
  const hold = holdOver(day, station)
  return [
    ...(hold ? [held(day, hold, station)] : []),
    ...(isOutdoors(day, station) ? ofTheReadings(question) : []),
    ...(isOutdoors(day, station) || station.protocol.maximalEffort ? ofTheContact(question) : []),
    ...station.equipmentIds
      .filter((equipmentId) => day.equipment.get(equipmentId)?.blocked)
      .map((equipment) => no('equipmentBlocked', { equipment })),
  ]
}

function ofTheReadings({ day, envelope, now }: StartQuestion): No[] {
  const policy = day.opened?.rules.heatPolicy as HeatPolicy | null | undefined
  if (!policy) return []
  const at = envelope.decidedOnDevice ? happenedAt(envelope) : now.recordedAt
  // One outdoor reading serves all outdoor zones of the site; one that was read indoors serves none.
  const outdoors = day.readings.filter((reading) => zoneOf(day, reading.zoneId)?.outdoor)
  const age = readingAge(outdoors, policy, at)
  const unread =
    policy.readingsNeeded && (now.siteVersionRead === 'unknown' || now.siteHead === 'unknown' || now.siteVersionRead < now.siteHead)
  return [
    ...(unread && !envelope.decidedOnDevice ? [no('siteUnread')] : []),
    ...(age.state === 'none' ? [no('noReading')] : []),
    ...(age.state === 'overdue' ? [no('readingStale', { minutes: Math.floor(age.ageMs / 60_000) })] : []),
  ]
}

/** The radio's word serves one station, for a run one named wave, and one contact-age period. */
function ofTheContact({ day, envelope, station, now, waveId }: StartQuestion): No[] {
  const limit = day.opened?.rules.contactAgeMs ?? 0
  if (envelope.contactAgeMs <= limit) return []
  const radio = day.radio.get(station.stationId)
  const at = envelope.decidedOnDevice ? happenedAt(envelope) : now.recordedAt
  if (radio && radio.until >= at && radio.waveId === (waveId ?? null)) return []
  return [no('outOfContact', { minutes: Math.floor(envelope.contactAgeMs / 60_000) })]
}

/** S1, S6: what must come before. */
function ofTheWay({ student, station }: StartQuestion): No[] {
  const state = shape(student)
  const { prerequisites } = station.protocol
  return [
    ...(state.coolDown === 'due' ? [no('coolDownDue')] : []),
    ...(prerequisites.includes('warmUp') && state.warmUp === 'due' ? [no('warmUpMissing')] : []),
    ...(prerequisites.includes('bodyMass') && state.mass === 'missing' ? [no('bodyMassMissing')] : []),
  ]
}

/**
 * For a start that is told of afterwards: what stood against it when it happened, whatever has changed since. Where the
 * order is not certain, it stood.
 */
function asItWas(question: StartQuestion): No[] {
  const { day, student, station, envelope } = question
  const { prerequisites } = station.protocol
  const earliest = happenedAt(envelope) - envelope.bandMs
  const latest = happenedAt(envelope) + envelope.bandMs
  const stood = ({ since, until }: Span) => since <= latest && (until === null || until >= earliest)
  const stop = student.past.stops.find(stood)
  const hold = heldDuring(day, station, earliest, latest)
  const other = student.attempts.find((one) => one.started && stood({ since: happenedAt(one.started), until: one.endedAt }))
  const clearance = wasCovered(student, station, earliest, latest) ? null : student.clearance.status
  return [
    ...(stop ? [no('stopped', { since: clockTime(day, stop.since) })] : []),
    ...(clearance ? [no('notCleared', { clearance, bib: called(student), station: station.protocol.name })] : []),
    ...(hold ? [held(day, hold, station)] : []),
    ...(student.past.coolDowns.some(stood) ? [no('coolDownDue')] : []),
    ...(prerequisites.includes('warmUp') && (student.warmUpAt ?? Infinity) > earliest ? [no('warmUpMissing')] : []),
    ...(prerequisites.includes('bodyMass') && (student.weighIns[0]?.at ?? Infinity) > earliest ? [no('bodyMassMissing')] : []),
    ...(other ? [no('otherUnderWay', { station: nameOf(day, other.stationId) })] : []),
  ]
}

/** Did a clearance cover this station at every instant from `earliest` to `latest`? */
function wasCovered({ past }: Student, station: PinnedStation, earliest: number, latest: number): boolean {
  const before = past.clearances.findLast((one) => one.at <= earliest)
  const within = past.clearances.filter((one) => one.at > earliest && one.at <= latest)
  return [before, ...within].every(
    (one) => one !== undefined && (one.status === 'cleared' || one.status === 'limited') && !one.barred.includes(station.stationId),
  )
}

const held = (day: Day, hold: Hold, station: PinnedStation): No =>
  no('holdInForce', { zone: zoneOf(day, station.zoneId)?.name ?? station.zoneId, since: clockTime(day, happenedAt(hold.raised)) })

/** S8: one attempt at a time, within the protocol's number. */
function ofTheTry(question: StartQuestion): No[] {
  const { day, student, station, official } = question
  const other = attemptUnderWay(student)
  const elsewhere = student.calledTo && student.calledTo.stationId !== station.stationId ? student.calledTo.stationId : null
  const used = triesUsed(student, station)
  const observer = student.clearance.limits.some((limit) => limit.kind === 'withObserver')
  return [
    ...(other ? [no('otherUnderWay', { station: nameOf(day, other.stationId) })] : []),
    ...(elsewhere ? [no('calledElsewhere', { station: nameOf(day, elsewhere) })] : []),
    ...(observer && !question.observerId ? [no('observerNeeded', { station: station.protocol.name })] : []),
    ...(official && used >= triesAllowed(student, station) ? [no('triesUsed', { used, tries: triesAllowed(student, station) })] : []),
    ...(question.early ? [] : [...ofTheRest(question), ...ofTheBriefing(question)]),
  ]
}

function ofTheRest({ student, station, envelope, now }: StartQuestion): No[] {
  const over = restOverAt(student, station)
  const at = envelope.decidedOnDevice ? happenedAt(envelope) : now.recordedAt
  if (over === null || at >= over) return []
  return [no('restNotOver', { minutes: Math.round(station.protocol.minimumRestMs / 60_000), left: Math.ceil((over - at) / 1000) })]
}

function ofTheBriefing({ day, student, station, official }: StartQuestion): No[] {
  return official && day.opened?.rules.briefing === 'required' && !student.briefed.includes(station.stationId) ? [no('notBriefed')] : []
}

/** When the rest after the last try here is over; null before the first. */
export function restOverAt(student: Student, station: PinnedStation): number | null {
  const last = student.attempts.filter((attempt) => attempt.stationId === station.stationId && attempt.status === 'recorded').at(-1)
  const told = last?.observations[0]?.told ?? last?.finish?.told
  return told ? happenedAt(told) + station.protocol.minimumRestMs : null
}

/** Official tries that are used: what was interrupted, released, given back or run again through nobody's fault is not. */
export function triesUsed(student: Student, station: PinnedStation): number {
  return student.attempts.filter((attempt) => {
    if (attempt.stationId !== station.stationId || !attempt.official || attempt.extra) return false
    const isRuledIn = attempt.status === 'interrupted' && attempt.ruling === 'counts'
    if (attempt.status !== 'recorded' && attempt.status !== 'underWay' && attempt.status !== 'void' && !isRuledIn) return false
    if (attempt.ruling === 'retest' || (attempt.number === 0 && attempt.ruling !== 'counts')) return false
    return attempt.observations[0]?.event.outcome !== 'noFaultRerun'
  }).length
}

/** An entitlement for this station gives one more try on the same day. */
export const triesAllowed = (student: Student, station: PinnedStation): number =>
  station.protocol.tries +
  student.entitlements.filter((one) => one.because === 'supervisor' && one.stationIds.includes(station.stationId)).length

const nameOf = (day: Day, stationId: Student['attempts'][number]['stationId']): string =>
  stationOf(day, stationId)?.protocol.name ?? stationId
