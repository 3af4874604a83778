import { attemptUnderWay, clockTime, holdOver, shape, stationOf, zoneOf, called, type Day } from '../day.ts'
import { happenedAt } from '@musterbook/vocabulary/envelope'
import { isCovered } from '../attempt/may-start.ts'
import { grant, refuse, type Asked, type Permission } from '../decision.ts'

type Place = Asked<'joinQueue' | 'leaveQueue' | 'callUp' | 'sendBack'>

export function joinQueue({ body }: Place, day: Day): Permission {
  const student = day.students.get(body.studentId)
  if (!student) return refuse('notOnRoster', {}, body)
  if (!stationOf(day, body.stationId)) return refuse('noSuchStation', {}, body)
  const { presence } = shape(student)
  if (presence === 'withdrawn') return refuse('withdrawn', {}, body)
  if (presence === 'complete') return refuse('afterSignOff', {}, body)
  if (presence !== 'present') return refuse('notCheckedIn', {}, body)
  return grant({ type: 'queueJoined', ...body })
}

export const leaveQueue = ({ body }: Place, day: Day): Permission =>
  day.students.has(body.studentId) ? grant({ type: 'queueLeft', ...body }) : refuse('notOnRoster', {}, body)

/** Asks the next student up. What only somebody elsewhere can resolve stops the call, so that nobody walks over in vain. */
export function callUp({ body }: Place, day: Day): Permission {
  const student = day.students.get(body.studentId)
  const station = stationOf(day, body.stationId)
  if (!student) return refuse('notOnRoster', {}, body)
  if (!station) return refuse('noSuchStation', {}, body)
  const { presence } = shape(student)
  if (presence === 'withdrawn') return refuse('withdrawn', {}, body)
  if (presence !== 'present') return refuse('notCheckedIn', {}, body)
  if (student.stop) return refuse('stopped', { since: clockTime(day, student.stop.since) }, body)
  if (student.healthEvent) return refuse('healthEventOpen', {}, body)
  if (!isCovered(student, station))
    return refuse('notCleared', { clearance: student.clearance.status, bib: called(student), station: station.protocol.name }, body)
  const hold = holdOver(day, station)
  if (hold)
    return refuse(
      'holdInForce',
      { zone: zoneOf(day, station.zoneId)?.name ?? station.zoneId, since: clockTime(day, happenedAt(hold.raised)) },
      body,
    )
  if (shape(student).coolDown === 'due') return refuse('coolDownDue', {}, body)
  const elsewhere =
    attemptUnderWay(student)?.stationId ?? (student.calledTo?.stationId === body.stationId ? undefined : student.calledTo?.stationId)
  if (elsewhere) return refuse('calledElsewhere', { station: stationOf(day, elsewhere)?.protocol.name ?? elsewhere }, body)
  return grant({ type: 'calledUp', ...body })
}

export const sendBack = ({ body }: Place, day: Day): Permission =>
  day.students.has(body.studentId) ? grant({ type: 'sentBack', ...body }) : refuse('notOnRoster', {}, body)
