import type { DayEvent, DayEventOf } from '@musterbook/vocabulary/events'
import { opensReview, reviewIdOf } from '../about.ts'
import type { Attempt, Day, Student, Wave } from '../day.ts'
import { grant, observe, refuse, type Asked, type Now, type Observed, type Permission } from '../decision.ts'
import { elapsedSince, runProtocol } from './laps.ts'

/** A runner passed the line. Always kept; a tap that is none of a lap says why and stays visible. */
export function recordCrossing({ body, envelope, by }: Asked<'recordCrossing'>, day: Day, now: Now): Observed {
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
  const elapsedMs = elapsedSince(wave.gun, { ...envelope, deviceId: by.deviceId, recordedAt: now.recordedAt })
  const ignored = whyIgnored(runner.attempt, elapsedMs, protocol.details.minimumLapMs, by.deviceId)
  const crossing: DayEventOf<'crossingRecorded'> = { type: 'crossingRecorded', ...body, elapsedMs, ignored }
  if (ignored) return observe(crossing)
  const laps = lapsOf(runner.attempt).length + 1
  if (body.line === 'lap' && laps < protocol.details.track.laps) return observe(crossing)
  return observe(crossing, ...finishes(wave, runner, elapsedMs, laps, protocol.details.track.laps, day, reviewIdOf(envelope.commandId)))
}

/** A person says that a crossing was missed. Labelled as inferred for ever; the finish stays the fact that it is. */
export function inferLap({ body }: Asked<'inferLap'>, day: Day): Permission {
  const wave = day.waves.get(body.waveId)
  const runner = runnerIn(day, body.waveId, body.studentId)
  const protocol = wave && runProtocol(day, wave)
  if (!wave || !runner || !protocol) return refuse('noSuchWave', {}, { studentId: body.studentId })
  const inferred: DayEventOf<'lapInferred'> = { type: 'lapInferred', ...body }
  const { finish, reviewIds } = runner.attempt
  const laps = lapsOf(runner.attempt).length + 1
  if (!finish || laps < protocol.details.track.laps) return grant(inferred)
  const settles = reviewIds.filter((reviewId) => day.reviews.get(reviewId)?.because === 'lapsMissing' && !day.reviews.get(reviewId)?.ruled)
  return grant(
    inferred,
    {
      type: 'finishRecorded',
      waveId: body.waveId,
      studentId: body.studentId,
      attemptId: runner.attempt.attemptId,
      elapsedMs: finish.elapsedMs,
      laps,
      reviewId: null,
    },
    ...settles.map((reviewId) => ({ type: 'reviewSettled' as const, reviewId, by: 'lapInferred' })),
  )
}

function runnerIn(day: Day, waveId: Wave['waveId'], studentId: Student['studentId']): { student: Student; attempt: Attempt } | undefined {
  const student = day.students.get(studentId)
  const attempt = student?.attempts.find((one) => one.waveId === waveId)
  return student && attempt ? { student, attempt } : undefined
}

export const lapsOf = (attempt: Attempt) => attempt.taps.filter((tap) => tap.ignored === null)

function whyIgnored(
  attempt: Attempt,
  elapsedMs: number,
  minimumLapMs: number,
  deviceId: string,
): DayEventOf<'crossingRecorded'>['ignored'] {
  const laps = lapsOf(attempt)
  const near = laps.find((tap) => Math.abs(tap.elapsedMs - elapsedMs) < minimumLapMs)
  if (near) return near.told.deviceId === deviceId ? 'underMinimumLap' : 'secondWitness'
  if (elapsedMs < minimumLapMs) return 'underMinimumLap'
  if (attempt.finish && elapsedMs > attempt.finish.elapsedMs) return 'afterFinish'
  return null
}

function finishes(
  wave: Wave,
  { student, attempt }: { student: Student; attempt: Attempt },
  elapsedMs: number,
  laps: number,
  needed: number,
  day: Day,
  reviewId: ReturnType<typeof reviewIdOf>,
): DayEvent[] {
  const about = { studentId: student.studentId, stationId: wave.stationId, attemptId: attempt.attemptId, waveId: wave.waveId }
  const held = [...day.holds.values()].find((hold) => hold.underWay.some((one) => one.attemptId === attempt.attemptId))
  const ran = held ? (held.disposed?.disposition === 'finishTheRun' || attempt.status === 'underWay' ? 'ranUnderHold' : null) : null
  const because = laps < needed ? 'lapsMissing' : ran
  const finish = {
    type: 'finishRecorded' as const,
    waveId: wave.waveId,
    studentId: student.studentId,
    attemptId: attempt.attemptId,
    elapsedMs,
    laps,
  }
  if (!because) return [{ ...finish, reviewId: null }]
  return [{ ...finish, reviewId }, opensReview(reviewId, because, about)]
}
