import { bandAt } from './classify.ts'
import type { HeatBand, HeatTable } from './policies.ts'

export interface SessionReading {
  readonly atMs: number
  /** Tenths of the table's unit. */
  readonly tenths: number
}

/**
 * The restriction in force within one session: a band counts once readings have stayed in it or above it for the given
 * time, and never steps down again. The reading that opened the session counts at once; none, and nothing is in force.
 *
 * It suits limits on practice, not a hold: that is raised on one reading.
 *
 * Source: Georgia High School Association, clarification memo of 24 August 2023 (15 minutes; exactly 15 counts).
 */
export function restrictionInForce(
  readings: readonly SessionReading[],
  table: HeatTable,
  atMs: number,
  stayMinutes = 15,
): HeatBand | undefined {
  const heard = readings.filter((one) => one.atMs <= atMs).sort((one, other) => one.atMs - other.atMs)
  const levels = heard.map((one) => ({ atMs: one.atMs, level: table.bands.indexOf(bandAt(one.tenths, table).band) }))
  const [opening] = levels
  if (!opening) return undefined
  const reached = table.bands
    .map((_, level) => level)
    .filter((level) => level <= opening.level || stayed(levels, level, stayMinutes * 60_000))
  return table.bands[Math.max(...reached)]
}

/** Did readings stay at this level or above it for as long as that, at any time? */
function stayed(levels: readonly { atMs: number; level: number }[], level: number, ms: number): boolean {
  let since: number | undefined
  return levels.some((one) => {
    since = one.level < level ? undefined : (since ?? one.atMs)
    return since !== undefined && one.atMs - since >= ms
  })
}
