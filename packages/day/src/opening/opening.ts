import { happenedAt } from '@musterbook/vocabulary/envelope'
import type { DayEvent } from '@musterbook/vocabulary/events'
import type { About } from '@musterbook/vocabulary/review'
import { opensReview, reviewIdOf } from '../about.ts'
import { stationOf, type Day } from '../day.ts'
import { grant, observe, refuse, type Asked, type Observed, type Permission } from '../decision.ts'

/** Pins the rules. What the site has in force, its readings and holds, is taken over in the same entry by whoever runs the day. */
export function openDay({ body }: Asked<'openDay'>, day: Day): Permission {
  if (day.opened) return refuse('alreadyOpen')
  return grant(
    { type: 'dayOpened', facts: body.facts, rules: body.rules },
    ...body.expected.map((expected): DayEvent => ({ type: 'studentExpected', ...expected, walkIn: false })),
  )
}

/** Who is not listed as qualified stands there by a supervisor's word, with its reason. */
export function assignStaff({ body, by }: Asked<'assignStaff'>, day: Day): Permission {
  const station = stationOf(day, body.stationId)
  if (!station) return refuse('noSuchStation', {}, { stationId: body.stationId })
  const isAccepted = body.acceptedBecause !== null && by.roles.includes('supervisor')
  if (!body.qualified && !isAccepted)
    return refuse('notQualified', { person: body.personId, station: station.protocol.name }, { stationId: body.stationId })
  return grant({ type: 'staffAssigned', ...body })
}

export const releaseStaff = ({ body }: Asked<'releaseStaff'>): Observed => observe({ type: 'staffReleased', ...body })

/** A failed check blocks, and puts everything measured with it since its last good check under review, in one act. Nothing is recalculated. */
export function checkEquipment({ body, envelope }: Asked<'checkEquipment'>, day: Day): Observed {
  const checked: DayEvent = { type: 'equipmentChecked', ...body }
  if (body.passed) return observe(checked)
  const since = day.equipment.get(body.equipmentId)?.lastGoodAt ?? 0
  const until = happenedAt(envelope)
  const within = (at: number) => at >= since && at <= until
  const touched = [...day.students.values()].flatMap((student): Partial<About>[] => {
    const weighed = student.weighIns.some((one) => one.scaleId === body.equipmentId && within(one.at))
    const attempts = student.attempts.filter(
      (attempt) =>
        attempt.observations.some(({ event, told }) => event.equipmentIds.includes(body.equipmentId) && within(happenedAt(told))) ||
        (weighed && stationOf(day, attempt.stationId)?.protocol.prerequisites.includes('bodyMass')),
    )
    if (!weighed && attempts.length === 0) return []
    return attempts.length === 0
      ? [{ studentId: student.studentId, attemptId: null, stationId: null }]
      : attempts.map(({ attemptId, stationId }) => ({ studentId: student.studentId, attemptId, stationId }))
  })
  return observe(
    checked,
    ...touched.map((about, index) =>
      opensReview(reviewIdOf(envelope.commandId, index + 1), 'equipmentOutOfTolerance', { ...about, equipmentId: body.equipmentId }),
    ),
  )
}

export function briefClass({ body }: Asked<'briefClass'>, day: Day): Permission {
  const stations = body.stationIds.map((stationId) => stationOf(day, stationId))
  if (stations.some((station) => !station)) return refuse('noSuchStation')
  return grant({
    type: 'classBriefed',
    briefingId: body.briefingId,
    studentIds: body.studentIds,
    protocols: stations.flatMap((station) =>
      station ? [{ stationId: station.stationId, protocolId: station.protocol.protocolId, version: station.protocol.version }] : [],
    ),
    language: body.language,
  })
}
