import type { Store } from './store.ts'

/** Counts wrong tries and makes each next wait longer. Kept on disk: a restart gives nobody fresh tries. */
export interface Tries {
  /** Takes one try before it is looked at, so that many at once gain nothing. Answers the seconds to wait, or 0: the try may go on. */
  take(limits: readonly Limit[], now: number): number
  /** The try was right: it is given back; `forgive`: with all wrong ones before it. */
  right(limits: readonly Limit[]): void
}
export interface Limit {
  who: string
  /** Wrong tries without any wait. */
  free: number
  /** Do right ones wipe out the wrong ones before? Not for a device: somebody's own PIN must not buy tries at another's. */
  forgive: boolean
}

const firstWaitMs = 5_000
const longestWaitMs = 300_000
/** Wrong tries are forgotten this long after the last one. */
const forgetAfterMs = 900_000

export function tries(store: Store): Tries {
  const find = store.prepare('SELECT failures, lastAt, openAt FROM tries WHERE who = ?')
  const keep = store.prepare('REPLACE INTO tries (who, failures, lastAt, openAt) VALUES (?, ?, ?, ?)')
  const giveBack = store.prepare('UPDATE tries SET failures = max(0, failures - 1), openAt = 0 WHERE who = ?')
  const wipe = store.prepare('DELETE FROM tries WHERE who = ?')

  const countOf = (who: string, now: number) => {
    const row = find.get(who) as { failures: number; lastAt: number; openAt: number } | undefined
    return !row || now - row.lastAt > forgetAfterMs ? { failures: 0, openAt: 0 } : row
  }
  return {
    take: store.transaction((limits: readonly Limit[], now: number): number => {
      const waitMs = Math.max(...limits.map(({ who }) => countOf(who, now).openAt - now))
      if (waitMs > 0) return Math.ceil(waitMs / 1000)
      for (const { who, free } of limits) {
        const failures = countOf(who, now).failures + 1
        keep.run(who, failures, now, failures < free ? 0 : now + waitAfter(failures - free))
      }
      return 0
    }).immediate,
    right: store.transaction((limits: readonly Limit[]): void => {
      for (const { who, forgive } of limits) (forgive ? wipe : giveBack).run(who)
    }).immediate,
  }
}

const waitAfter = (over: number): number => Math.min(longestWaitMs, firstWaitMs * 2 ** Math.min(over, 10))
