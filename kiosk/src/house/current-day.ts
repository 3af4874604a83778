import type { DayView } from '@musterbook/day/views'

/** The open day of this site; of several the newest; with none open, the newest of all. */
export function currentDay(days: readonly DayView[]): DayView | undefined {
  const newest = [...days].sort((one, other) => other.openedAt - one.openedAt)
  return newest.find((day) => day.state === 'open') ?? newest[0]
}
