import type { ProtocolOf } from '@musterbook/stations/protocol'
import { readRun, type RunReading, type Tap } from '@musterbook/stations/laps'
import { happenedAt } from '@musterbook/vocabulary/envelope'
import { stationOf, type Attempt, type Day, type LapTap, type Times, type Wave } from '../day.ts'

export function runProtocol(day: Day, wave: Pick<Wave, 'stationId'>): ProtocolOf<'run'> | undefined {
  const protocol = stationOf(day, wave.stationId)?.protocol
  return protocol?.kind === 'run' ? (protocol as unknown as ProtocolOf<'run'>) : undefined
}

/** Since the gun. On one device its steady clock says so, as long as its wall clock agrees; between devices the corrected clocks do. */
export function elapsedSince(gun: Times, then: Times): number {
  const byWall = happenedAt(then) - happenedAt(gun)
  const bySteady = steadySince(gun, then)
  // A steady clock that stood still while the device slept, or began anew after a restart, is not believed.
  return bySteady === null || disagree(bySteady, byWall) ? byWall : bySteady
}

/** One device's two clocks say different durations: it slept, was started anew, or somebody set its clock meanwhile. */
export function clocksDisagree(gun: Times, then: Times): boolean {
  const bySteady = steadySince(gun, then)
  return bySteady !== null && disagree(bySteady, happenedAt(then) - happenedAt(gun))
}

const steadySince = (gun: Times, then: Times): number | null =>
  gun.deviceId !== then.deviceId || gun.steadyMs === null || then.steadyMs === null ? null : Math.round(then.steadyMs - gun.steadyMs)

const disagree = (bySteady: number, byWall: number): boolean => Math.abs(bySteady - byWall) > 1000

/** The finish, unless the touch that made it was taken back: then the runner is out there still. */
export const standingFinish = ({ finish, taps }: Attempt): Attempt['finish'] =>
  finish && taps.some((tap) => tap.ignored === null && tap.elapsedMs === finish.elapsedMs) ? finish : null

const tapOf = ({ observationId, elapsedMs, inferred }: LapTap): Tap => ({ tapId: observationId, elapsedMs, inferred })

/**
 * Is there room for one more lap at this instant, by the protocol's own question of a double tap? What a tablet tells late,
 * and another has counted past meanwhile, is a lap only where that one's count lacks it.
 */
export function hasRoom(attempt: Attempt, elapsedMs: number, protocol: ProtocolOf<'run'>): boolean {
  const late: Tap = { tapId: 'late', elapsedMs, inferred: false }
  const counted = attempt.taps.filter((tap) => tap.ignored === null).map(tapOf)
  const { crossings, questions } = readRun([...counted, late], null, protocol.details)
  const at = crossings.findIndex(({ tapId }) => tapId === late.tapId)
  const touched = [crossings[at]?.lap, crossings[at + 1]?.lap]
  return at >= 0 && !questions.some((question) => question.kind === 'possibleDoubleTap' && touched.includes(question.lap))
}

/** What a runner's taps come to, by the protocol's lap rules. */
export function readingOf(attempt: Attempt, protocol: ProtocolOf<'run'>): RunReading {
  const counted = attempt.taps.filter((tap) => tap.ignored === null)
  const finish = attempt.finish ? counted.find((tap) => tap.elapsedMs === attempt.finish?.elapsedMs && !tap.inferred) : undefined
  return readRun(counted.map(tapOf), finish ? tapOf(finish) : null, protocol.details)
}
