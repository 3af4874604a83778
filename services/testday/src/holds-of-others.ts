import type { Day, Hold } from '@musterbook/day/day'
import { raisesHold } from '@musterbook/day/hold/raise-hold'
import type { Meta } from '@musterbook/ledger/ledger'
import type { DayEvent } from '@musterbook/vocabulary/events'
import type { ReadingId } from '@musterbook/vocabulary/ids'

/** Holds in force in other days of the site that this day has never heard of and has a place for. */
export function unheardHolds(day: Day, others: readonly Day[]): Hold[] {
  const zones = new Set(day.opened?.rules.zones.map((zone) => zone.zoneId))
  const inForce = others.flatMap((other) => [...other.holds.values()]).filter((hold) => !hold.lifted)
  const once = new Map(inForce.map((hold) => [hold.holdId, hold]))
  return [...once.values()].filter((hold) => !day.holds.has(hold.holdId) && (hold.zoneId === null || zones.has(hold.zoneId)))
}

export const takeOverHold = (day: Day, hold: Hold, times: Meta): DayEvent =>
  raisesHold(day, {
    holdId: hold.holdId,
    kind: hold.kind,
    zoneId: hold.zoneId,
    raisedBy: 'takenOver',
    readingId: hold.readingId as ReadingId | null,
    times,
  })
