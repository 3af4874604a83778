import type { ProtocolOf } from '@musterbook/stations/protocol'
import { readRun, type RunReading, type Tap } from '@musterbook/stations/laps'
import { sayValue } from '@musterbook/stations/units'
import type { Step } from '@musterbook/stations/working'
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
  // A steady clock that stood still while the device slept is not believed.
  return bySteady === null || disagree(bySteady, byWall) ? byWall : bySteady
}

/**
 * One device's two clocks say different durations: it slept, or somebody set its clock meanwhile. Where its steady clock began
 * anew in between there is nothing to hold against the wall clock but its offset, which moves when somebody sets it.
 */
export function clocksDisagree(gun: Times, then: Times): boolean {
  if (beganAnew(gun, then)) return disagree(gun.offsetMs, then.offsetMs)
  const bySteady = steadySince(gun, then)
  return bySteady !== null && disagree(bySteady, happenedAt(then) - happenedAt(gun))
}

/** The device was started anew, or its page loaded again: two steady clocks, and no difference between them. */
export const beganAnew = (gun: Times, then: Times): boolean =>
  hasSteady(gun, then) && gun.steadyOf !== undefined && then.steadyOf !== undefined && gun.steadyOf !== then.steadyOf

const steadySince = (gun: Times, then: Times): number | null =>
  hasSteady(gun, then) && !beganAnew(gun, then) ? Math.round(then.steadyMs! - gun.steadyMs!) : null

const hasSteady = (gun: Times, then: Times): boolean => gun.deviceId === then.deviceId && gun.steadyMs !== null && then.steadyMs !== null

const disagree = (one: number, other: number): boolean => Math.abs(one - other) > 1000

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
  const finish = finishingTap(attempt)
  return readRun(counted.map(tapOf), finish ? tapOf(finish) : null, protocol.details)
}

/** The touch that made the finish. */
export const finishingTap = ({ finish, taps }: Attempt): LapTap | undefined =>
  finish ? taps.find((tap) => tap.ignored === null && tap.elapsedMs === finish.elapsedMs && !tap.inferred) : undefined

/** Said where no one steady clock saw the whole run: its tablet began anew between gun and finish. */
export function timedByWall(attempt: Attempt): Step[] {
  const { started, finish } = attempt
  const end = finishingTap(attempt)
  if (!started || !finish || !end || !beganAnew(started, end.told)) return []
  return [
    {
      step: 'read',
      rule: "timed by the tablet's wall clock, as its steady clock began anew between gun and finish",
      from: `offset ${offsetOf(started)} at the gun, ${offsetOf(end.told)} at the finish`,
      gives: sayValue(finish.elapsedMs, 'milliseconds'),
      sources: [end.observationId],
    },
  ]
}

const offsetOf = ({ offsetMs, bandMs }: Times): string => `${offsetMs} ± ${bandMs} ms`
