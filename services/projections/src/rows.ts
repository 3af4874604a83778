import type { Day } from '@musterbook/day/day'
import type { View } from '@musterbook/vocabulary/ports'
import { type Looked, isAsLooked, lookingAt } from './looking.ts'

/** The read models: pure functions of the day, rebuilt from the first entry whenever a `revision` rises. */
interface DayView {
  revision: number
  keys(day: Day): readonly string[]
  of(day: Day, key: string): unknown
}
export type DayViews = Readonly<Record<string, DayView>>

/** One row as it stands in the file, and as readers are handed it. */
export interface Kept {
  readonly text: string
  view: View | undefined
  /** What of the day it was made of; undefined when it was read from the file. */
  looked: Looked | undefined
}

/** Every row of one view of the day. One that is what it was before is the same object as before, and is not made where nothing that it looked at has changed. */
export function rowsOf(view: DayView, day: Day, before: ReadonlyMap<string, Kept> | undefined): Map<string, Kept> {
  const rows = new Map<string, Kept>()
  for (const key of view.keys(day)) {
    const old = before?.get(key)
    rows.set(key, old?.looked && isAsLooked(day, old.looked) ? old : rowOf(view, day, key, old))
  }
  return rows
}

function rowOf(view: DayView, day: Day, key: string, old: Kept | undefined): Kept {
  const { seen, looked } = lookingAt(day)
  const text = JSON.stringify(view.of(seen, key))
  if (old?.text !== text) return { text, view: undefined, looked }
  old.looked = looked
  return old
}
