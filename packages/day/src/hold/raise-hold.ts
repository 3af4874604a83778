import { orderNotCertain } from '@musterbook/vocabulary/envelope'
import type { DayEventOf } from '@musterbook/vocabulary/events'
import type { HoldId, ReadingId, ZoneId } from '@musterbook/vocabulary/ids'
import { attemptUnderWay, covers, stationOf, type Day } from '../day.ts'
import { observe, type Asked, type Observed } from '../decision.ts'

/** Anyone raises a hold; it stands from now. */
export function raiseHold({ body, by, envelope }: Asked<'raiseHold'>, day: Day): Observed {
  if (day.holds.has(body.holdId)) return observe({ type: 'holdAcknowledged', holdId: body.holdId, deviceId: by.deviceId })
  return observe(raisesHold(day, { ...body, raisedBy: by.personId ? 'person' : 'device', readingId: null, times: envelope }))
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
  return [...day.students.values()].flatMap((student) => {
    const attempt = attemptUnderWay(student)
    const station = attempt && stationOf(day, attempt.stationId)
    if (!attempt || !station || !covers({ zoneId }, station)) return []
    const uncertain = attempt.started !== null && orderNotCertain(attempt.started, times)
    return [{ studentId: student.studentId, attemptId: attempt.attemptId, stationId: attempt.stationId, orderNotCertain: uncertain }]
  })
}
