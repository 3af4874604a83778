import { percentFat } from '@musterbook/scoring/percent-fat'
import type { Protocol } from '@musterbook/stations/protocol'
import { circuit, sitesOf, type FoldReading } from '@musterbook/stations/skinfold'
import { happenedAt } from '@musterbook/vocabulary/envelope'
import type { DayEventOf } from '@musterbook/vocabulary/events'
import type { ReviewReason } from '@musterbook/vocabulary/review'
import type { PinnedStation } from '@musterbook/vocabulary/rules'
import { opensReview, reviewIdOf } from '../about.ts'
import { attemptUnderWay, heldDuring, shape, stationOf, type Attempt, type Day, type Student } from '../day.ts'
import { isReadable } from '../readable.ts'
import { hasReview, underHold } from '../reviews-of.ts'
import { observe, type Asked, type Now, type Observed } from '../decision.ts'
import { isCovered, triesAllowed, triesUsed } from './may-start.ts'
import { isAtTwoPlaces } from './two-places.ts'

/** It happened, so it is kept. Where it contradicts the day, it waits for the supervisor to rule. */
export function recordResult(command: Asked<'recordResult'>, day: Day, now: Now): Observed {
  const { body, envelope } = command
  const student = day.students.get(body.studentId)
  const station = stationOf(day, body.stationId)
  const slot = student && slotOf(command, day, student)
  const as = slot && slot.observations.length > 0 ? 'secondWitness' : isExtra(command, student, station, slot) ? 'extra' : 'result'
  const derived = student && station ? derive(body.folds, station.protocol as unknown as Protocol, student) : null
  const because = reasonForReview(command, day, student, station, slot, as, derived, now)
  const reviewId = because ? reviewIdOf(envelope.commandId) : null
  const attemptId = slot?.attemptId ?? body.attemptId
  const recorded: DayEventOf<'resultRecorded'> = {
    type: 'resultRecorded',
    ...body,
    attemptId,
    official: slot?.official ?? body.official,
    as,
    derived: derived?.state === 'scored' ? derived.kept : null,
    reviewId,
  }
  return because && reviewId
    ? observe(recorded, opensReview(reviewId, because, { studentId: body.studentId, stationId: body.stationId, attemptId }))
    : observe(recorded)
}

/**
 * The try that this tells of. A second tablet out of contact may have given the same try another id: the same student at
 * the same station within the window is one try, seen twice.
 */
function slotOf({ body, envelope }: Asked<'recordResult'>, day: Day, student: Student): Attempt | undefined {
  const named = student.attempts.find((attempt) => attempt.attemptId === body.attemptId)
  if (named) return named
  const within = day.opened?.rules.witnessWindowMs ?? 0
  // Practice and official never flow together.
  const here = student.attempts.filter(
    (attempt) => attempt.stationId === body.stationId && attempt.waveId === null && attempt.official === body.official,
  )
  const running = here.find((attempt) => attempt.status === 'underWay')
  return (
    running ??
    here.findLast(
      (attempt) =>
        attempt.status === 'recorded' &&
        attempt.observations.some(({ told }) => Math.abs(happenedAt(told) - happenedAt(envelope)) <= within),
    )
  )
}

function isExtra(
  { body }: Asked<'recordResult'>,
  student: Student | undefined,
  station: PinnedStation | undefined,
  slot: Attempt | undefined,
): boolean {
  return !slot && !!student && !!station && body.official && triesUsed(student, station) >= triesAllowed(student, station)
}

function reasonForReview(
  { body, envelope }: Asked<'recordResult'>,
  day: Day,
  student: Student | undefined,
  station: PinnedStation | undefined,
  slot: Attempt | undefined,
  as: DayEventOf<'resultRecorded'>['as'],
  derived: Derived | null,
  _now: Now,
): ReviewReason | null {
  if (!student || !station) return 'noSuchAttempt'
  if (as === 'secondWitness') return slot ? secondWitness(slot, body, envelope, day) : null
  if (as === 'extra') return 'beyondTries'
  if (!isOfThisStation(body, slot)) return 'unreadable'
  if (slot?.status === 'interrupted') return slot.interruptedBy?.by === 'hold' ? 'ranUnderHold' : 'stopped'
  if (slot && slot.status !== 'underWay') return 'noSuchAttempt'
  if (!slot && student.stop) return 'stopped'
  if (!slot && !isCovered(student, station)) return 'notCleared'
  if (!slot && station.protocol.prerequisites.includes('warmUp') && shape(student).warmUp === 'due') return 'warmUpMissing'
  if (!slot && attemptUnderWay(student)) return 'otherUnderWay'
  if (!slot) return 'noSuchAttempt'
  if (wasHeld(day, station, slot, envelope)) return 'ranUnderHold'
  if (body.value && body.outcome === 'good' && !isReadable(body.value, station.protocol as unknown as Protocol)) return 'unreadable'
  if (station.protocol.kind === 'run' && body.outcome === 'good') return 'lapsMissing'
  if (station.protocol.prerequisites.includes('bodyMass') && student.weighIns.length === 0) return 'bodyMassMissing'
  if (body.outcome === 'good' && derived?.state === 'incomplete') return 'foldsIncomplete'
  if (body.outcome === 'good' && derived?.state === 'refused') return 'sumOutOfRange'
  return isAtTwoPlaces(day, student, station.stationId, envelope, slot) ? 'twoPlaces' : null
}

/** A result that names a try of another station tells of neither with certainty. */
const isOfThisStation = (body: Asked<'recordResult'>['body'], slot: Attempt | undefined): boolean =>
  !slot || slot.stationId === body.stationId

/** A hold stood over the station at some time of this try, and nobody has asked about it yet. */
const wasHeld = (day: Day, station: PinnedStation, slot: Attempt, envelope: Asked<'recordResult'>['envelope']): boolean =>
  slot.started !== null &&
  heldDuring(day, station, happenedAt(slot.started), happenedAt(envelope)) !== undefined &&
  !hasReview(day, slot, underHold)

function secondWitness(
  slot: Attempt,
  body: Asked<'recordResult'>['body'],
  envelope: Asked<'recordResult'>['envelope'],
  day: Day,
): ReviewReason | null {
  const apart = slot.observations.map(({ told }) => Math.abs(happenedAt(told) - happenedAt(envelope)))
  if (slot.stationId !== body.stationId) return 'unreadable'
  if (apart.some((ms) => ms > (day.opened?.rules.witnessWindowMs ?? 0))) return 'farApart'
  const agrees = slot.observations.every(
    ({ event }) => event.outcome === body.outcome && event.value?.amount === body.value?.amount && event.value?.unit === body.value?.unit,
  )
  return agrees ? null : 'readingsDiffer'
}

type Derived = { state: 'scored'; kept: NonNullable<DayEventOf<'resultRecorded'>['derived']> } | { state: 'incomplete' | 'refused' }

/** Percent fat is worked out once, here, and kept: nothing works it out again on replay. */
function derive(folds: Asked<'recordResult'>['body']['folds'], protocol: Protocol, student: Student): Derived | null {
  if (protocol.kind !== 'skinfold') return null
  const { equation, conversion, repeatRule } = protocol.details
  const { sex, ageYears } = student.normGroup
  const readings = folds.map((fold, index) => ({ observationId: String(index), ...fold }) as FoldReading)
  const done = circuit(sitesOf(equation, sex), repeatRule, readings)
  if (done.state !== 'complete') return { state: 'incomplete' }
  const fat = percentFat(equation, conversion, sex, done.sumQuarterMillimetres / 4, ageYears)
  if (fat.state !== 'scored') return { state: 'refused' }
  return {
    state: 'scored',
    kept: {
      // Cut off, not rounded: the one rounding, to tenths, is the score's, and 14.846 must not become 14.9 by way of 14.85.
      percentFatHundredths: Math.floor(fat.percentFat * 100),
      densityE7: Math.round(fat.density * 1e7),
      equation: `${equation}, ${conversion}`,
    },
  }
}
