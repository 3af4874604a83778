import { orderNotCertain, happenedAt } from '@musterbook/vocabulary/envelope'
import type { DayEvent } from '@musterbook/vocabulary/events'
import { opensReview, reviewIdOf } from '../about.ts'
import { reviewFor } from '../attempt/start-attempt.ts'
import { reasonsAgainst, triesUsed, type No } from '../attempt/may-start.ts'
import { called, clockTime, holdOver, stationOf, zoneOf, type Day, type Student } from '../day.ts'
import { grant, refuse, type Asked, type Now, type Permission } from '../decision.ts'
import { newestReading } from '../hold/readings.ts'
import { refusal } from '@musterbook/vocabulary/refusals'

/**
 * A mass start, granted whole or refused whole. A gun that cannot be ordered against a hold is kept as what happened:
 * the hold governs, nothing of it counts, and a disposition is due.
 */
export function startWave({ body, envelope }: Asked<'startWave'>, day: Day, now: Now): Permission {
  const about = { stationId: body.stationId }
  const station = stationOf(day, body.stationId)
  if (!station) return refuse('noSuchStation', {}, about)
  if (station.protocol.kind !== 'run') return refuse('notArun', {}, about)
  if (day.waves.has(body.waveId)) return refuse('waveExists', {}, about)

  const hold = holdOver(day, station)
  const uncertain = hold !== undefined && orderNotCertain(envelope, hold.raised)
  const gunFirst = hold !== undefined && happenedAt(envelope) < happenedAt(hold.raised)
  const underHold = hold && (uncertain || envelope.decidedOnDevice || gunFirst) ? hold : undefined
  if (hold && !underHold) {
    return refuse(
      'holdInForce',
      { zone: zoneOf(day, station.zoneId)?.name ?? station.zoneId, since: clockTime(day, happenedAt(hold.raised)) },
      about,
    )
  }

  const runners: { student: Student; attemptId: Asked<'startWave'>['body']['runners'][number]['attemptId']; against: No | undefined }[] = []
  for (const { studentId, attemptId } of body.runners) {
    const student = day.students.get(studentId)
    if (!student) return refuse('notOnRoster', {}, { ...about, studentId })
    const against = reasonsAgainst({ day, student, station, official: body.official, envelope, observerId: null, early: true, now }).filter(
      (reason) => !(underHold && reason.rule === 'holdInForce') && reason.rule !== 'calledElsewhere',
    )[0]
    if (against && !envelope.decidedOnDevice) return refuseRunner(against, student, about)
    runners.push({ student, attemptId, against })
  }

  const events: DayEvent[] = [
    {
      type: 'waveStarted',
      waveId: body.waveId,
      stationId: body.stationId,
      studentIds: body.runners.map((one) => one.studentId),
      official: body.official,
      underHold: underHold?.holdId ?? null,
    },
  ]
  const readingId = newestReading(day)?.readingId ?? null
  runners.forEach(({ student, attemptId, against }, index) => {
    const because = underHold ? (uncertain ? 'orderNotCertain' : 'ranUnderHold') : against ? reviewFor(against.rule) : null
    const reviewId = because ? reviewIdOf(envelope.commandId, index + 1) : null
    events.push({
      type: 'attemptStarted',
      attemptId,
      studentId: student.studentId,
      stationId: station.stationId,
      official: body.official,
      load: null,
      equipmentIds: [],
      observerId: null,
      earlyBecause: null,
      number: body.official ? triesUsed(student, station) + 1 : 0,
      waveId: body.waveId,
      readingId,
      reviewId,
    })
    if (because && reviewId)
      events.push(
        opensReview(reviewId, because, {
          studentId: student.studentId,
          stationId: station.stationId,
          attemptId,
          waveId: body.waveId,
          holdId: underHold?.holdId ?? null,
        }),
      )
  })
  return grant(...events)
}

/** What stands against everyone is said as it is; what stands against one names the runner. */
function refuseRunner(against: No, student: Student, about: { stationId: Asked<'startWave'>['body']['stationId'] }): Permission {
  const ofTheDay = ['holdInForce', 'siteUnread', 'noReading', 'readingStale', 'outOfContact', 'equipmentBlocked']
  if (ofTheDay.includes(against.rule)) return refuse(against.rule, against.params, about)
  return refuse(
    'runnerMayNotStart',
    { bib: called(student), why: refusal(against.rule, against.params).says, rule: against.rule },
    { ...about, studentId: student.studentId },
  )
}
