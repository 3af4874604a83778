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
  if (gun.deviceId !== then.deviceId || gun.steadyMs === null || then.steadyMs === null) return byWall
  const bySteady = Math.round(then.steadyMs - gun.steadyMs)
  // A steady clock that stood still while the device slept, or began anew after a restart, is not believed.
  return Math.abs(bySteady - byWall) <= 1000 ? bySteady : byWall
}

/** The finish, unless the touch that made it was taken back: then the runner is out there still. */
export const standingFinish = ({ finish, taps }: Attempt): Attempt['finish'] =>
  finish && taps.some((tap) => tap.ignored === null && tap.elapsedMs === finish.elapsedMs) ? finish : null

const tapOf = ({ observationId, elapsedMs, inferred }: LapTap): Tap => ({ tapId: observationId, elapsedMs, inferred })

/** What a runner's taps come to, by the protocol's lap rules. */
export function readingOf(attempt: Attempt, protocol: ProtocolOf<'run'>): RunReading {
  const counted = attempt.taps.filter((tap) => tap.ignored === null)
  const finish = attempt.finish ? counted.find((tap) => tap.elapsedMs === attempt.finish?.elapsedMs && !tap.inferred) : undefined
  return readRun(counted.map(tapOf), finish ? tapOf(finish) : null, protocol.details)
}
