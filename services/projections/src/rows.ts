import type { Day } from '@musterbook/day/day'
import type { View } from '@musterbook/vocabulary/ports'

/** The read models: pure functions of the day, rebuilt from the first entry whenever a `revision` rises. */
export interface DayView {
  revision: number
  keys(day: Day): readonly string[]
  of(day: Day, key: string): unknown
}
export type DayViews = Readonly<Record<string, DayView>>

/** One row as it stands in the file, and as readers are handed it. */
export interface Kept {
  readonly text: string
  view: View | undefined
}

/** Every row of one view of the day; one that is what it was before is the same object as before. */
export function rowsOf(view: DayView, day: Day, before: ReadonlyMap<string, Kept> | undefined): Map<string, Kept> {
  const rows = new Map<string, Kept>()
  for (const key of view.keys(day)) {
    const text = JSON.stringify(view.of(day, key))
    const same = before?.get(key)
    rows.set(key, same?.text === text ? same : { text, view: undefined })
  }
  return rows
}
