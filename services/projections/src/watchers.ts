import type { View } from '@musterbook/vocabulary/ports'

interface Watcher {
  newest: View | undefined
  wake: () => void
}

/** Whoever waits for rows. Each is handed the newest only: one that is slow skips some, and slows nobody. */
export class Watchers {
  readonly #watchers = new Map<string, Set<Watcher>>()

  tell(dayId: string, view: string, key: string, newest: View): void {
    for (const watcher of this.#watchers.get(nameOf(dayId, view, key)) ?? []) {
      watcher.newest = newest
      watcher.wake()
    }
  }

  /** `now` comes first, if there is a row already. */
  async *watch(dayId: string, view: string, key: string, now: View | undefined, signal: AbortSignal): AsyncIterable<View> {
    const name = nameOf(dayId, view, key)
    const watcher: Watcher = { newest: now, wake: () => {} }
    const abort = () => watcher.wake()
    const together = this.#watchers.get(name) ?? new Set()
    this.#watchers.set(name, together.add(watcher))
    signal.addEventListener('abort', abort, { once: true })
    try {
      while (!signal.aborted) {
        const { newest } = watcher
        watcher.newest = undefined
        if (newest) yield newest
        else {
          await new Promise<void>((resolve) => {
            watcher.wake = resolve
            if (signal.aborted || watcher.newest) resolve()
          })
        }
      }
    } finally {
      signal.removeEventListener('abort', abort)
      together.delete(watcher)
      if (together.size === 0) this.#watchers.delete(name)
    }
  }
}

const nameOf = (dayId: string, view: string, key: string) => `${dayId} ${view} ${key}`
