import { happenedAt, orderNotCertain } from '@musterbook/vocabulary/envelope'
import type { DayEvent, DayEventOf } from '@musterbook/vocabulary/events'
import type { HoldId, ReadingId, ZoneId } from '@musterbook/vocabulary/ids'
import { opensReview, reviewIdOf } from '../about.ts'
import { attemptsUnderWay, covers, stationOf, type Day } from '../day.ts'
import { observe, type Asked, type Observed } from '../decision.ts'
import { hasReview, underHold } from '../reviews-of.ts'

/**
 * Anyone raises a hold; it stands from now. One that is told of afterwards stands from when it was raised: what ended
 * under it meanwhile waits for a ruling.
 */
export function raiseHold({ body, by, envelope }: Asked<'raiseHold'>, day: Day): Observed {
  const known = day.holds.get(body.holdId)
  const isSame = known && !known.lifted && known.zoneId === body.zoneId && known.kind === body.kind
  if (isSame) return observe({ type: 'holdAcknowledged', holdId: body.holdId, deviceId: by.deviceId })
  // An id that is taken by another hold never swallows this one.
  const holdId = known ? (`${envelope.commandId}.h` as HoldId) : body.holdId
  const raised = raisesHold(day, { ...body, holdId, raisedBy: by.personId ? 'person' : 'device', readingId: null, times: envelope })
  return observe(raised, ...ranMeanwhile(day, raised, envelope))
}

/** What ended under a hold that is told of afterwards, by a person or by a reading. Where the order is not certain, it ran under it. */
export function ranMeanwhile(
  day: Day,
  { holdId, zoneId }: DayEventOf<'holdRaised'>,
  told: { commandId: string; occurredAt: number; offsetMs: number; bandMs: number },
): DayEvent[] {
  const since = happenedAt(told) - told.bandMs
  return [...day.students.values()]
    .flatMap((student) => student.attempts)
    .filter((attempt) => {
      const station = stationOf(day, attempt.stationId)
      const isOver = attempt.status === 'recorded' && (attempt.endedAt ?? 0) > since
      return isOver && station && covers(day, { zoneId }, station) && !hasReview(day, attempt, underHold)
    })
    .map(({ studentId, stationId, attemptId, waveId }, index) =>
      opensReview(reviewIdOf(told.commandId, index + 1), 'ranUnderHold', { studentId, stationId, attemptId, waveId, holdId }),
    )
}

/** S3: everyone under way in its zone is listed at once, and where a start cannot be ordered against it, that is said. */
export function raisesHold(
  day: Day,
  hold: {
    holdId: HoldId
    kind: DayEventOf<'holdRaised'>['kind']
    zoneId: ZoneId | null
    raisedBy: DayEventOf<'holdRaised'>['raisedBy']
    readingId: ReadingId | null
    times: { occurredAt: number; offsetMs: number; bandMs: number }
  },
): DayEventOf<'holdRaised'> {
  const { times, ...named } = hold
  return { type: 'holdRaised', ...named, underWay: underWayIn(day, hold.zoneId, times) }
}

/** Everyone in an attempt at a station that such a hold covers. */
export function underWayIn(
  day: Day,
  zoneId: ZoneId | null,
  times: { occurredAt: number; offsetMs: number; bandMs: number },
): DayEventOf<'holdRaised'>['underWay'] {
  return [...day.students.values()].flatMap((student) =>
    attemptsUnderWay(student).flatMap(({ attemptId, stationId, started }) => {
      const station = stationOf(day, stationId)
      if (!station || !covers(day, { zoneId }, station)) return []
      const uncertain = started !== null && orderNotCertain(started, times)
      return [{ studentId: student.studentId, attemptId, stationId, orderNotCertain: uncertain }]
    }),
  )
}
