import { signal, type ReadonlySignal } from '@preact/signals'
import type { Day } from '@musterbook/day/day'
import { follow, type LiveView } from '../live/live.ts'
import type { CopiedEntry, Core } from './core.ts'
import type { Store } from './store.ts'

/** The day as this device was told it, entry by entry: kept here, and folded by the day's own rules. */
export interface Copy {
  core: ReadonlySignal<Core | undefined>
  day: ReadonlySignal<Day | undefined>
  /** All that stood at the site when it was last reached has come; false from the moment it is lost. */
  caughtUp: ReadonlySignal<boolean>
  /** Command ids that the copy holds: what is there needs no telling. */
  holds(commandId: string): boolean
  /** The stream that it comes by: its silence is the age of contact. */
  live: ReadonlySignal<LiveView<unknown> | undefined>
  follow(dayId: string): void
  /** Nothing of the day stays in this page; followed again, it comes anew. */
  forget(): void
}

/** Folded without a pause: a tablet that opens after three hours draws meanwhile. */
const atOnce = 100

export function openCopy(store: Promise<Store>): Copy {
  const core = signal<Core | undefined>(undefined)
  const day = signal<Day | undefined>(undefined)
  const caughtUp = signal(false)
  const live = signal<LiveView<unknown> | undefined>(undefined)
  let holds = new Set<string>()
  let heads = new Map<string, string>()
  let place = 0
  let followed: string | undefined
  let line: Promise<unknown> = Promise.resolve()
  const inLine = (act: () => Promise<unknown>) => (line = line.then(act).catch((error: unknown) => console.error(error)))

  const startAnew = (dayId: string) => {
    holds = new Set()
    heads = new Map()
    place = 0
    day.value = core.peek()!.emptyDay(dayId as Day['dayId'])
  }

  async function fold(entries: readonly CopiedEntry[]): Promise<boolean> {
    const { evolve } = core.peek()!
    let folded = day.peek()!
    for (const [at, entry] of entries.entries()) {
      if ((heads.get(entry.stream) ?? entry.prevHash) !== entry.prevHash) return false
      folded = evolve(folded, entry)
      heads.set(entry.stream, entry.hash)
      holds.add(entry.meta.commandId)
      place++
      if (at % atOnce === atOnce - 1) await new Promise((resolve) => setTimeout(resolve))
    }
    day.value = folded
    return true
  }

  async function open(dayId: string): Promise<void> {
    core.value ??= await import('./core.ts')
    startAnew(dayId)
    const kept = await keptEntries(store, dayId)
    if (!(await fold(kept))) await discard(dayId)
    if (followed === dayId) listen(dayId)
  }

  function listen(dayId: string): void {
    live.peek()?.close()
    live.value = follow<number>('entries', {
      path: () => `/api/days/${dayId}/live/entries/all?after=${place}`,
      differences: ['entries', 'caughtUp'],
      apply: (_, data, kind) => {
        inLine(() => (kind === 'entries' ? take(dayId, data as CopiedEntry[]) : reached(dayId, data as number)))
        return 0
      },
      onLost: () => (caughtUp.value = false),
    })
  }

  async function take(dayId: string, entries: readonly CopiedEntry[]): Promise<void> {
    if (followed !== dayId) return
    const from = place
    if (!(await fold(entries))) return discard(dayId).then(() => listen(dayId))
    await keepEntries(store, dayId, from, entries)
  }

  /** A site that has less than we do is another record: it was restored, and its word counts. */
  async function reached(dayId: string, theirs: number): Promise<void> {
    if (followed !== dayId) return
    if (theirs < place) await discard(dayId).then(() => listen(dayId))
    else caughtUp.value = true
  }

  async function discard(dayId: string): Promise<void> {
    startAnew(dayId)
    await store.then((db) => db.clear('entries')).catch(() => undefined)
  }

  return {
    core,
    day,
    caughtUp,
    live,
    holds: (commandId) => holds.has(commandId),
    follow(dayId) {
      if (followed === dayId) return
      followed = dayId
      caughtUp.value = false
      inLine(() => open(dayId))
    },
    forget() {
      followed = undefined
      caughtUp.value = false
      live.peek()?.close()
      live.value = undefined
      day.value = undefined
      // Behind what is being folded still.
      inLine(async () => {
        if (followed === undefined) day.value = undefined
        holds = new Set()
        heads = new Map()
        place = 0
      })
    },
  }
}

const keptEntries = (store: Promise<Store>, dayId: string): Promise<CopiedEntry[]> =>
  store
    .then((db) => db.getAll('entries', IDBKeyRange.bound([dayId, 0], [dayId, Infinity])))
    .then(
      (rows) => rows.map(({ entry }) => entry),
      () => [],
    )

/** What does not fit any more is fetched anew as the page opens again. */
async function keepEntries(store: Promise<Store>, dayId: string, from: number, entries: readonly CopiedEntry[]): Promise<void> {
  const db = await store.catch(() => undefined)
  if (!db) return
  const all = db.transaction('entries', 'readwrite')
  const puts = entries.map((entry, at) => all.store.put({ dayId, place: from + at + 1, entry }))
  await Promise.all([...puts, all.done]).catch(() => undefined)
}
