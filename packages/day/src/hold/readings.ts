import type { DayEventOf } from '@musterbook/vocabulary/events'
import type { Day } from '../day.ts'

/** The reading that was read last and may be used. */
export function newestReading(day: Day): DayEventOf<'readingReceived'> | undefined {
  return day.readings
    .filter((reading) => reading.usable)
    .reduce<DayEventOf<'readingReceived'> | undefined>((newest, next) => (newest && newest.readAt > next.readAt ? newest : next), undefined)
}
