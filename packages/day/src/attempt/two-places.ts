import { happenedAt, type Envelope } from '@musterbook/vocabulary/envelope'
import type { StationId } from '@musterbook/vocabulary/ids'
import { stationOf, type Attempt, type Day, type Student } from '../day.ts'
import { hasReview } from '../reviews-of.ts'

/** Where and when a bib was seen doing something. */
export interface Sighting {
  stationId: StationId
  at: number
}

/** Everything that was seen of a student in another zone than that of this station. */
export function seenInOtherZones(day: Day, student: Student, stationId: StationId): Sighting[] {
  const zoneId = stationOf(day, stationId)?.zoneId
  return student.attempts
    .filter((attempt) => wasTheirs(attempt) && stationOf(day, attempt.stationId)?.zoneId !== zoneId)
    .flatMap((attempt) => timesOf(attempt).map((at) => ({ stationId: attempt.stationId, at })))
}

/** Moved to somebody else, or started in error: nobody was there. */
const wasTheirs = ({ status }: Attempt): boolean => status !== 'reassigned' && status !== 'released'

const timesOf = ({ started, observations, taps }: Attempt): number[] => [
  ...(started ? [happenedAt(started)] : []),
  ...[...observations, ...taps].map(({ told }) => happenedAt(told)),
]

/**
 * E31, a bib swapped or misread: was it seen in another zone, too short a time before or after for anybody to walk, or in an attempt
 * there that was under way at that very moment? A day that pins no figure asks nothing.
 */
export function isAtTwoPlaces(
  day: Day,
  student: Student,
  stationId: StationId,
  envelope: Pick<Envelope, 'occurredAt' | 'offsetMs'>,
  attempt?: Attempt,
): boolean {
  const within = day.opened?.rules.twoPlacesWithinMs
  // Asked once of one try.
  if (within === undefined || (attempt && hasReview(day, attempt, ['twoPlaces', 'otherUnderWay']))) return false
  const at = happenedAt(envelope)
  if (seenInOtherZones(day, student, stationId).some((seen) => Math.abs(seen.at - at) < within)) return true
  const zoneId = stationOf(day, stationId)?.zoneId
  return student.attempts.some(
    (other) =>
      other.started !== null &&
      wasTheirs(other) &&
      stationOf(day, other.stationId)?.zoneId !== zoneId &&
      happenedAt(other.started) <= at &&
      at <= (other.endedAt ?? Infinity),
  )
}
