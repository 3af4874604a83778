import { emptyDay, type Day } from '@musterbook/day/day'
import { evolve } from '@musterbook/day/evolve'
import { dayViews } from '@musterbook/day/views'
import type { LedgerReader } from '@musterbook/ledger/ledger'
import type { DayId } from '@musterbook/vocabulary/ids'

/** Shows a day as it stood at any of its versions. */
export interface StepBack {
  /** undefined: no such view, key or version. */
  viewAt(dayId: DayId, version: number, view: string, key: string): Promise<{ version: number; body: unknown } | undefined>
}

/** Days are values, so a few kept on the way make a step back cheap. They are a cache: the entries alone say what was. */
const keepEvery = 128
const daysKept = 2

export function stepBack(ledger: LedgerReader): StepBack {
  const kept = new Map<DayId, Map<number, Day>>()

  const dayAt = async (dayId: DayId, version: number): Promise<Day | undefined> => {
    const marks = marksOf(kept, dayId)
    const from = Math.max(0, ...[...marks.keys()].filter((mark) => mark <= version))
    let day = marks.get(from) ?? emptyDay(dayId)
    let at = from
    for await (const entry of ledger.read(`day/${dayId}`, from)) {
      if (at === version) break
      day = evolve(day, entry)
      at = entry.version
      if (at % keepEvery === 0) marks.set(at, day)
    }
    return at === version ? day : undefined
  }

  return {
    async viewAt(dayId, version, view, key) {
      if (!Object.hasOwn(dayViews, view)) return undefined
      const day = await dayAt(dayId, version)
      const rows = dayViews[view as keyof typeof dayViews]
      if (!day || !rows.keys(day).includes(key)) return undefined
      return { version, body: rows.of(day, key) }
    },
  }
}

/** The marks of the days looked at last. */
function marksOf(kept: Map<DayId, Map<number, Day>>, dayId: DayId): Map<number, Day> {
  const marks = kept.get(dayId) ?? new Map<number, Day>()
  kept.delete(dayId)
  kept.set(dayId, marks)
  for (const oldest of kept.keys()) if (kept.size > daysKept) kept.delete(oldest)
  return marks
}
