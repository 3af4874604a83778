import { happenedAt } from '@musterbook/vocabulary/envelope'
import type { ProtocolOf } from '@musterbook/stations/protocol'
import type { ReviewReason } from '@musterbook/vocabulary/review'
import type { DayEvent, DayEventOf } from '@musterbook/vocabulary/events'
import { opensReview, reviewIdOf } from '../about.ts'
import { isAtTwoPlaces } from '../attempt/two-places.ts'
import { heldDuring, stationOf, type Attempt, type Day, type Student, type Wave } from '../day.ts'
import { hasReview, reviewsOf, underHold } from '../reviews-of.ts'
import { grant, observe, refuse, type Asked, type Now, type Observed, type Permission } from '../decision.ts'
import { clocksDisagree, elapsedSince, hasRoom, runProtocol, standingFinish } from './laps.ts'

/** A runner passed the line. Always kept; a tap that is none of a lap says why and stays visible; a bib seen elsewhere just now is asked about. */
export function recordCrossing(command: Asked<'recordCrossing'>, day: Day, now: Now): Observed {
  const { body, envelope } = command
  const crossed = crossing(command, day, now)
  const runner = runnerIn(day, body.waveId, body.studentId)
  if (!runner || !isAtTwoPlaces(day, runner.student, runner.attempt.stationId, envelope, runner.attempt)) return crossed
  const { studentId, stationId, attemptId } = runner.attempt
  const about = { studentId, stationId, attemptId, waveId: body.waveId }
  // Others that it asks have the numbers before.
  return observe(...crossed.events, opensReview(reviewIdOf(envelope.commandId, 9), 'twoPlaces', about))
}

function crossing({ body, envelope, by }: Asked<'recordCrossing'>, day: Day, now: Now): Observed {
  const wave = day.waves.get(body.waveId)
  const runner = runnerIn(day, body.waveId, body.studentId)
  const protocol = wave && runProtocol(day, wave)
  if (!wave || !runner || !protocol) {
    const reviewId = reviewIdOf(envelope.commandId)
    return observe(
      { type: 'crossingRecorded', ...body, elapsedMs: 0, ignored: 'notRunning' },
      opensReview(reviewId, 'noSuchAttempt', { studentId: body.studentId, waveId: body.waveId }),
    )
  }
  const times = { ...envelope, deviceId: by.deviceId, recordedAt: now.recordedAt }
  const elapsedMs = elapsedSince(wave.gun, times)
  const ignored = whyIgnored(runner.attempt, elapsedMs, protocol, by.deviceId)
  const crossed: DayEventOf<'crossingRecorded'> = { type: 'crossingRecorded', ...body, elapsedMs, ignored }
  if (ignored === 'unpaired') {
    const { studentId, stationId, attemptId } = runner.attempt
    const about = { studentId, stationId, attemptId, waveId: wave.waveId }
    return observe(crossed, opensReview(reviewIdOf(envelope.commandId), 'crossingUnpaired', about))
  }
  if (ignored) return observe(crossed)
  const { laps: needed } = protocol.details.track
  const known = lapsOf(runner.attempt)
  const finish = standingFinish(runner.attempt)
  // A crossing that another tablet kept arrives behind the finish: a lap more, and the finish stays the fact that it is.
  // Behind the seal it only waits: a person rules on what it proves.
  if (finish) return observe(crossed, ...(day.sealed ? [] : completes(day, wave, runner, finish, elapsedMs, needed)))
  const laps = known.length + 1
  if (body.line === 'lap' && laps < needed) return observe(crossed)
  const last = body.line === 'finish' ? elapsedMs : Math.max(elapsedMs, ...known.map((tap) => tap.elapsedMs))
  const held = heldSince(day, wave, runner.attempt, happenedAt(envelope))
  const parted = clocksDisagree(wave.gun, times)
  const finished = finishes(wave, runner, { elapsedMs: last, laps, needed, held, parted }, envelope.commandId)
  return observe(crossed, ...finished, ...(laps >= needed ? missingNoMore(day, runner.attempt) : []))
}

/** The clock and the laps are the wave's and not a tablet's: who carries it on is all that changes. */
export const takeOverWave = ({ body }: Asked<'takeOverWave'>): Observed => observe({ type: 'waveTakenOver', ...body })

/**
 * Touched in error: the tap stays, and is none of a lap any more. Where it ended the run, the runner is out there still:
 * the result is withheld until the line is crossed.
 */
export function takeBackCrossing({ body, envelope }: Asked<'takeBackCrossing'>, day: Day): Observed {
  const wave = day.waves.get(body.waveId)
  const runner = runnerIn(day, body.waveId, body.studentId)
  const protocol = wave && runProtocol(day, wave)
  const tap = runner?.attempt.taps.find((one) => one.observationId === body.observationId && !one.inferred)
  const takenBack: DayEvent = { type: 'crossingTakenBack', ...body }
  const reviewId = reviewIdOf(envelope.commandId)
  if (!wave || !runner || !protocol || !tap)
    return observe(takenBack, opensReview(reviewId, 'noSuchAttempt', { studentId: body.studentId, waveId: body.waveId }))
  const { attempt } = runner
  const { finish } = attempt
  if (day.sealed || !finish || tap.ignored !== null || tap.elapsedMs > finish.elapsedMs) return observe(takenBack)
  const laps = lapsOf(attempt).filter((other) => other !== tap && other.elapsedMs <= finish.elapsedMs).length
  const { attemptId, studentId, stationId } = attempt
  const { waveId } = wave
  const finished = { type: 'finishRecorded' as const, waveId, studentId, attemptId, elapsedMs: finish.elapsedMs, laps }
  const isAsked = reviewsOf(day, attempt).some((review) => review.because === 'lapsMissing' && !review.ruled)
  if (laps >= protocol.details.track.laps || isAsked) return observe(takenBack, { ...finished, reviewId: null })
  const about = { studentId, stationId, attemptId, waveId }
  return observe(takenBack, { ...finished, reviewId }, opensReview(reviewId, 'lapsMissing', about))
}

/** A person says that a crossing was missed. Labelled as inferred for ever; the finish stays the fact that it is. */
export function inferLap({ body }: Asked<'inferLap'>, day: Day): Permission {
  const wave = day.waves.get(body.waveId)
  const runner = runnerIn(day, body.waveId, body.studentId)
  const protocol = wave && runProtocol(day, wave)
  if (!wave || !runner || !protocol) return refuse('noSuchWave', {}, { studentId: body.studentId })
  const inferred: DayEventOf<'lapInferred'> = { type: 'lapInferred', ...body }
  if (runner.student.signedOffAt !== null) return refuse('afterSignOff', {}, { studentId: body.studentId })
  const { finish } = runner.attempt
  if (!finish) return grant(inferred)
  return grant(inferred, ...completes(day, wave, runner, finish, body.elapsedMs, protocol.details.track.laps))
}

/** One more lap before a finish that lacked it: proven now, the same time as before. */
function completes(
  day: Day,
  wave: Wave,
  { student, attempt }: Runner,
  finish: NonNullable<Attempt['finish']>,
  elapsedMs: number,
  needed: number,
): DayEvent[] {
  const laps = lapsOf(attempt).filter((tap) => tap.elapsedMs <= finish.elapsedMs).length + 1
  if (elapsedMs >= finish.elapsedMs || finish.laps >= needed || laps < needed) return []
  const { waveId } = wave
  const { studentId } = student
  return [
    { type: 'finishRecorded', waveId, studentId, attemptId: attempt.attemptId, elapsedMs: finish.elapsedMs, laps, reviewId: null },
    ...missingNoMore(day, attempt),
  ]
}

const missingNoMore = (day: Day, attempt: Attempt): DayEvent[] =>
  reviewsOf(day, attempt)
    .filter((review) => review.because === 'lapsMissing' && !review.ruled)
    .map(({ reviewId }) => ({ type: 'reviewSettled', reviewId, by: 'lapFound' }))

/** Did a hold stand over the run at any time since its gun? */
function heldSince(day: Day, wave: Wave, attempt: Attempt, until: number): boolean {
  const station = stationOf(day, wave.stationId)
  const from = happenedAt(attempt.started ?? wave.gun)
  return station !== undefined && heldDuring(day, station, from, until) !== undefined && !hasReview(day, attempt, underHold)
}

interface Runner {
  student: Student
  attempt: Attempt
}

function runnerIn(day: Day, waveId: Wave['waveId'], studentId: Student['studentId']): Runner | undefined {
  const student = day.students.get(studentId)
  const attempt = student?.attempts.findLast((one) => one.waveId === waveId && one.status !== 'reassigned')
  return student && attempt ? { student, attempt } : undefined
}

export const lapsOf = (attempt: Attempt) => attempt.taps.filter((tap) => tap.ignored === null)

function whyIgnored(
  attempt: Attempt,
  elapsedMs: number,
  protocol: ProtocolOf<'run'>,
  deviceId: string,
): DayEventOf<'crossingRecorded'>['ignored'] {
  const { minimumLapMs } = protocol.details
  const laps = lapsOf(attempt)
  const near = laps.find((tap) => Math.abs(tap.elapsedMs - elapsedMs) < minimumLapMs)
  if (near) return near.told.deviceId === deviceId ? 'underMinimumLap' : 'secondWitness'
  if (elapsedMs < minimumLapMs) return 'underMinimumLap'
  const finish = standingFinish(attempt)
  if (finish && elapsedMs > finish.elapsedMs) return 'afterFinish'
  const isBehindAnother = laps.some((tap) => !tap.inferred && tap.told.deviceId !== deviceId && tap.elapsedMs > elapsedMs)
  return isBehindAnother && !hasRoom(attempt, elapsedMs, protocol) ? 'unpaired' : null
}

function finishes(
  wave: Wave,
  { student, attempt }: Runner,
  { elapsedMs, laps, needed, held, parted }: { elapsedMs: number; laps: number; needed: number; held: boolean; parted: boolean },
  commandId: string,
): DayEvent[] {
  const { waveId, stationId } = wave
  const { studentId } = student
  const { attemptId } = attempt
  // Ended by a touch that was taken back, it was under way all the while.
  const isOpen = attempt.status === 'recorded' && attempt.finish !== null && standingFinish(attempt) === null
  const waits = whyFinishWaits(isOpen ? { ...attempt, status: 'underWay' } : attempt, laps, needed, held)
  // Asked beside what else is asked: a lap that is put in says nothing of how long the run lasted.
  const asked: ReviewReason[] = [...(waits ? [waits] : []), ...(parted ? ['clocksDisagree' as const] : [])]
  const finish = { type: 'finishRecorded' as const, waveId, studentId, attemptId, elapsedMs, laps }
  const about = { studentId, stationId, attemptId, waveId }
  return [
    { ...finish, reviewId: asked.length > 0 ? reviewIdOf(commandId) : null },
    ...asked.map((because, index) => opensReview(reviewIdOf(commandId, index + 1), because, about)),
  ]
}

function whyFinishWaits({ status, interruptedBy }: Attempt, laps: number, needed: number, held: boolean): ReviewReason | null {
  if (status === 'interrupted') return interruptedBy?.by === 'hold' ? 'ranUnderHold' : 'stopped'
  if (status !== 'underWay') return 'noSuchAttempt'
  if (held) return 'ranUnderHold'
  return laps < needed ? 'lapsMissing' : null
}
