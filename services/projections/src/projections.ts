import type { Day } from '@musterbook/day/day'
import { BrokenChain } from '@musterbook/ledger/entry-text'
import type { Entry, Ledger } from '@musterbook/ledger/ledger'
import type { View, Views } from '@musterbook/vocabulary/ports'
import { DoesNotFit, entriesFrom, type FoldedDay, foldOn, placeOf, unread } from './folded-day.ts'
import { type DayViews, type Kept, rowsOf } from './rows.ts'
import { Rest } from './rest.ts'
import { entriesOf, NewestDays } from './newest-days.ts'
import { type Change, type Checkpoint, openStore, type Row, type Store } from './store.ts'
import { Watchers } from './watchers.ts'

export interface Parts {
  ledger: Ledger
  /** The file of the read models; it may be thrown away. */
  file: string
  views: DayViews
  /** Told while days are read from their first entry. */
  onProgress?: (progress: Progress) => void
  /** How long a reader who asks for a version waits for it before getting the newest there is, ms. */
  waitAtMostMs?: number
}

export interface Progress {
  readonly dayId: string
  readonly read: number
  readonly of: number
}

export interface Projections extends Views {
  /** Settles once every day that the ledger held at the start is read, or has been found not to fit. */
  readonly ready: Promise<void>
  /** Builds every row again from the first entry. Readers see the old rows of a day until its new ones are whole. */
  rebuild(onProgress?: (progress: Progress) => void): Promise<void>
  /** The day as far as it is read. */
  newest(dayId: string): Promise<Day | undefined>
  /** Entries after that version, those behind the seal included. */
  entriesOf(dayId: string, afterVersion: number, atMost?: number): Promise<Entry[]>
  close(): Promise<void>
}

/** Read models of every day: folded as entries come, kept in a file, handed to screens. A version of a day counts on over its seal. */
export function openProjections(parts: Parts): Projections {
  return new Desk(parts)
}

interface LiveDay {
  folded: FoldedDay
  readonly rows: Map<string, Map<string, Kept>>
  /** Told and not yet folded, in each stream's own order. */
  inbox: Entry[]
  /** How far the rows of each view have read, as one number over both streams. */
  readonly places: Map<string, number>
  /** Views that cannot be made of the day as it stands, and why: their rows stay what they were, and the others go on. */
  readonly faults: Map<string, string>
  /** What keeps it from going on, as a sentence. */
  trouble: string | null
  /** The trouble lies in the ledger or in the code, and no waiting mends it: nothing more is built on this day. */
  stopped: boolean
  behindSince: number | undefined
}

/** Folded between two writes while a day is being read from far back; progress is told as often. */
const foldedAtOnce = 250
const headsEveryMs = 1_000
const retryAfterMs = 1_000
const restAtMostMs = 200
/** What screens must show at once, whatever else is going on. */
const waitsForNothing: ReadonlySet<string> = new Set(['holdRaised', 'holdLifted', 'holdDisposed', 'studentStopped', 'studentRestored'])

class Desk implements Projections {
  readonly ready: Promise<void>
  readonly #ledger: Ledger
  readonly #views: DayViews
  readonly #onProgress: (progress: Progress) => void
  readonly #waitAtMostMs: number
  readonly #store: Store
  readonly #watchers = new Watchers()
  readonly #days = new Map<string, Promise<LiveDay>>()
  readonly #live = new Map<string, LiveDay>()
  /** Sealed days of which the file has every row: folded when somebody asks for one. */
  readonly #past: NewestDays
  readonly #checkpoints = new Map<string, Map<string, Checkpoint>>()
  readonly #heads = new Map<string, number>()
  readonly #waiting = new Map<string, Set<() => void>>()
  readonly #dirty = new Set<string>()
  readonly #closing = new AbortController()
  /** Ends one round of following, for another with what was read by then. */
  #round = new AbortController()
  readonly #polling: NodeJS.Timeout
  readonly #following: Promise<void>[]
  readonly #rest = new Rest()
  #working: Promise<void> | undefined

  constructor({ ledger, file, views, onProgress = () => {}, waitAtMostMs = 5_000 }: Parts) {
    this.#ledger = ledger
    this.#past = new NewestDays(ledger)
    this.#views = views
    this.#onProgress = onProgress
    this.#waitAtMostMs = waitAtMostMs
    this.#store = openStore(file)
    this.#forgetOldRevisions()
    this.ready = this.#readAll()
    // Whoever awaits it hears why; nobody has to.
    this.ready.catch(() => {})
    this.#following = ['day/', 'after/'].map((prefix) => this.#follow(prefix))
    this.#polling = setInterval(() => void this.#pollHeads(), headsEveryMs)
    this.#polling.unref()
  }

  async get(dayId: string, view: string, key: string, atLeast = 0): Promise<View | undefined> {
    const until = performance.now() + this.#waitAtMostMs
    while (this.#placeOf(dayId, view) < atLeast) {
      const left = until - performance.now()
      if (left <= 0 || !(await this.#changed(dayId, left))) break
    }
    return this.#view(dayId, view, key)
  }

  watch(dayId: string, view: string, key: string, signal: AbortSignal): AsyncIterable<View> {
    return this.#watchers.watch(dayId, view, key, this.#view(dayId, view, key), signal)
  }

  async days(): Promise<View[]> {
    return this.#store.rowsUnder('day', 'all').map((row) => ({ version: this.#placeOf(row.dayId, 'day'), body: JSON.parse(row.body) }))
  }

  lags(): { name: string; dayId: string; behind: number; forMs: number; stopped: string | null }[] {
    const now = performance.now()
    return [...this.#live].flatMap(([dayId, live]) =>
      Object.keys(this.#views).map((name) => ({
        name,
        dayId,
        behind: this.#behind(dayId, name),
        forMs: live.behindSince === undefined ? 0 : Math.round(now - live.behindSince),
        stopped: live.faults.get(name) ?? live.trouble,
      })),
    )
  }

  async newest(dayId: string): Promise<Day | undefined> {
    return this.#live.get(dayId)?.folded.day ?? this.#past.newest(dayId)
  }

  entriesOf(dayId: string, afterVersion: number, atMost = 500): Promise<Entry[]> {
    return entriesOf(this.#ledger, dayId, afterVersion, atMost)
  }

  async rebuild(onProgress: (progress: Progress) => void = this.#onProgress): Promise<void> {
    for (const { stream } of await this.#ledger.streams('day/')) {
      const reading = this.#readDay(dayIdOf(stream), onProgress, 'anew')
      this.#days.set(dayIdOf(stream), reading)
      await reading
    }
    // A day that had stopped is followed again.
    const round = this.#round
    this.#round = new AbortController()
    round.abort()
  }

  async close(): Promise<void> {
    this.#closing.abort()
    clearInterval(this.#polling)
    this.#rest.end()
    await Promise.all(this.#following)
    await this.ready.catch(() => {})
    while (this.#working) await this.#working
    this.#store.close()
  }

  // Reading what there is

  #forgetOldRevisions(): void {
    const kept = this.#store.checkpoints()
    const names = new Set(kept.map((each) => each.projection))
    for (const name of names) {
      const current = Object.hasOwn(this.#views, name) ? this.#views[name]?.revision : undefined
      if (kept.some((each) => each.projection === name && each.revision !== current)) this.#store.forget(name)
    }
    for (const checkpoint of this.#store.checkpoints()) this.#remember(dayIdOf(checkpoint.stream), checkpoint)
  }

  /** Sealed days that are whole in the file stay there; every other day is folded from its first entry. */
  async #readAll(): Promise<void> {
    const heads = await this.#ledger.streams('day/')
    const gone = new Set(this.#checkpoints.keys())
    for (const { stream } of heads) gone.delete(dayIdOf(stream))
    for (const dayId of gone) await this.#dayOf(dayId, this.#onProgress) // It stops, and says that the ledger has lost it.
    for (const head of heads) {
      const dayId = dayIdOf(head.stream)
      const after = await this.#ledger.head(`after/${dayId}`)
      this.#heads.set(head.stream, head.version)
      this.#heads.set(after.stream, after.version)
      const whole = Object.keys(this.#views).every((name) =>
        [head, after].every(({ stream, version, hash }) => {
          const kept = this.#checkpoints.get(dayId)?.get(`${name} ${stream}`)
          return version === 0 || (kept?.version === version && kept.hash === hash)
        }),
      )
      if (!head.sealed || !whole) await this.#dayOf(dayId, this.#onProgress)
      if (this.#closing.signal.aborted) return
    }
  }

  #dayOf(dayId: string, onProgress: (progress: Progress) => void): Promise<LiveDay> {
    const known = this.#days.get(dayId)
    if (known) return known
    const reading = this.#readDay(dayId, onProgress)
    this.#days.set(dayId, reading)
    return reading
  }

  async #readDay(dayId: string, onProgress: (progress: Progress) => void, how: 'on' | 'anew' = 'on'): Promise<LiveDay> {
    const live: LiveDay = {
      folded: unread(dayId),
      rows: this.#rowsKept(dayId),
      inbox: [],
      places: new Map(),
      faults: new Map(),
      trouble: null,
      stopped: false,
      behindSince: undefined,
    }
    await this.#carryOn(dayId, live, async () => {
      await this.#foldFromFirst(dayId, live, onProgress, how)
      if (this.#closing.signal.aborted) return
      if (how === 'on') this.#assertNothingLost(dayId, live.folded)
      // Readers go on seeing the old day until here; what was told of it meanwhile is read from the ledger.
      this.#live.set(dayId, live)
      this.#write(dayId, live)
      onProgress({ dayId, read: placeOf(live.folded), of: placeOf(live.folded) })
    })
    if (!this.#closing.signal.aborted) this.#showWhatFits(dayId, live)
    return live
  }

  async #foldFromFirst(dayId: string, live: LiveDay, onProgress: (progress: Progress) => void, how: 'on' | 'anew'): Promise<void> {
    const heads = await Promise.all([this.#ledger.head(`day/${dayId}`), this.#ledger.head(`after/${dayId}`)])
    const of = heads[0].version + heads[1].version
    for await (const entry of entriesFrom(this.#ledger, dayId, 0)) {
      if (how === 'on') this.#assertSameLedger(dayId, entry)
      live.folded = foldOn(live.folded, entry)
      const read = placeOf(live.folded)
      if (read % foldedAtOnce > 0) continue
      onProgress({ dayId, read, of: Math.max(read, of) })
      await nextTick()
      if (this.#closing.signal.aborted) return
    }
  }

  /** Of a day that stopped while it was being read, what came before the fault is shown, unless older rows reach further. */
  #showWhatFits(dayId: string, live: LiveDay): void {
    if (this.#live.get(dayId) === live) return
    const furthest = Math.max(...Object.keys(this.#views).map((view) => this.#placeOf(dayId, view)))
    this.#live.set(dayId, live)
    try {
      if (placeOf(live.folded) > furthest) this.#write(dayId, live)
    } catch (error) {
      live.trouble = `${live.trouble}; ${sentenceOf(error)}`
    }
  }

  /** What does not fit stops this day and leaves the others running; what may pass is tried again. */
  async #carryOn(dayId: string, live: LiveDay, work: () => Promise<void>): Promise<void> {
    try {
      await work()
      live.trouble = null
    } catch (error) {
      live.trouble = sentenceOf(error)
      live.stopped = error instanceof DoesNotFit || error instanceof BrokenChain
      if (live.stopped) return
      setTimeout(() => this.#look(dayId), retryAfterMs).unref()
    }
  }

  #rowsKept(dayId: string): LiveDay['rows'] {
    const rows: LiveDay['rows'] = new Map()
    for (const row of this.#store.rowsOf(dayId)) {
      const ofView = rows.get(row.projection) ?? new Map<string, Kept>()
      rows.set(row.projection, ofView.set(row.key, { text: row.body, view: undefined, looked: undefined }))
    }
    return rows
  }

  /** The chain may hold in itself and yet be another one than the rows were built on. */
  #assertSameLedger(dayId: string, entry: Entry): void {
    for (const kept of this.#checkpoints.get(dayId)?.values() ?? []) {
      if (kept.stream === entry.stream && kept.version === entry.version && kept.hash !== entry.hash) {
        throw new DoesNotFit(`entry ${entry.version} of ${entry.stream} is not the one that ${kept.projection} was built on`)
      }
    }
  }

  #assertNothingLost(dayId: string, { day }: FoldedDay): void {
    for (const { stream, version, projection } of this.#checkpoints.get(dayId)?.values() ?? []) {
      const reached = stream.startsWith('after/') ? day.afterVersion : day.version
      if (version > reached) throw new DoesNotFit(`${stream} ends at ${reached}, and ${projection} had read ${version}`)
    }
  }

  // Following what comes

  async #follow(prefix: string): Promise<void> {
    const { signal } = this.#closing
    while (!signal.aborted) {
      try {
        await this.ready.catch(() => {})
        const round = AbortSignal.any([signal, this.#round.signal])
        for await (const entry of this.#ledger.follow(prefix, await this.#seen(prefix), round)) this.#offer(entry)
      } catch {
        // One stream that cannot be read ends the following of all: find it, stop it, and follow the others.
        await this.#readOnAll().catch(() => {})
        if (!signal.aborted) await pause(retryAfterMs)
      }
    }
  }

  /** How far each stream was read. A stream of a day that has stopped counts as read to its end, for ever. */
  async #seen(prefix: string): Promise<Map<string, number>> {
    const seen = new Map<string, number>()
    for (const { stream } of await this.#ledger.streams(prefix)) {
      const live = this.#live.get(dayIdOf(stream))
      if (live?.stopped) seen.set(stream, Number.MAX_SAFE_INTEGER)
      else if (live) seen.set(stream, prefix === 'after/' ? live.folded.day.afterVersion : live.folded.day.version)
      else seen.set(stream, Math.min(...Object.keys(this.#views).map((view) => this.#readInFile(dayIdOf(stream), stream, view))))
    }
    return seen
  }

  #offer(entry: Entry): void {
    this.#heads.set(entry.stream, Math.max(entry.version, this.#heads.get(entry.stream) ?? 0))
    const dayId = dayIdOf(entry.stream)
    const live = this.#live.get(dayId)
    if (live?.stopped) return
    live?.inbox.push(entry)
    this.#look(dayId)
    if (entry.events.some((event) => waitsForNothing.has(event.type))) this.#rest.end()
  }

  #look(dayId: string): void {
    if (this.#closing.signal.aborted) return
    this.#dirty.add(dayId)
    this.#working ??= this.#work()
  }

  /**
   * Folds whatever has come meanwhile at once, then rests in proportion: a burst costs few writes, a quiet minute one write an entry, and
   * making rows never takes the machine from those who append. Nobody who waits for a version, and no hold or stop, waits for the rest.
   */
  async #work(): Promise<void> {
    while (this.#dirty.size > 0) {
      await nextTick()
      const began = performance.now()
      for (const dayId of this.#dirty) {
        this.#dirty.delete(dayId)
        const live = await this.#dayOf(dayId, this.#onProgress)
        if (live.stopped) continue
        await this.#carryOn(dayId, live, () => this.#foldInbox(dayId, live))
        if (live.inbox.length > 0) this.#dirty.add(dayId)
      }
      if (this.#waiting.size === 0) await this.#rest.begin(Math.min(restAtMostMs, 3 * (performance.now() - began)))
    }
    this.#working = undefined // In the same tick as the last look at what is dirty, so that nothing falls between.
  }

  async #foldInbox(dayId: string, live: LiveDay): Promise<void> {
    const told = live.inbox.splice(0, foldedAtOnce)
    try {
      for (const entry of told) if (this.#isNext(live, entry)) live.folded = foldOn(live.folded, entry)
      const head = this.#headOf(dayId)
      // Something was not told, or told too early: the ledger knows. A gap that stands there as well is one.
      if (live.inbox.length === 0 && placeOf(live.folded) < head) await this.#readOn(dayId, live)
    } finally {
      // What was folded before a fault fits, and is shown.
      this.#write(dayId, live)
    }
  }

  #isNext({ folded: { day } }: LiveDay, { stream, version }: Entry): boolean {
    if (stream.startsWith('after/')) return day.sealed !== null && version === day.afterVersion + 1
    return version === day.version + 1
  }

  async #readOn(dayId: string, live: LiveDay): Promise<void> {
    for await (const entry of entriesFrom(this.#ledger, dayId, placeOf(live.folded))) live.folded = foldOn(live.folded, entry)
  }

  async #readOnAll(): Promise<void> {
    for (const [dayId, live] of this.#live) {
      if (live.stopped) continue
      await this.#carryOn(dayId, live, async () => {
        try {
          await this.#readOn(dayId, live)
        } finally {
          this.#write(dayId, live)
        }
      })
    }
  }

  // Rows

  /** Rows that changed and how far they have read go into the file in one transaction, and only then to the readers. */
  #write(dayId: string, live: LiveDay): void {
    if (this.#live.get(dayId) !== live) return // Built anew meanwhile.
    const version = placeOf(live.folded)
    const made = this.#makeRows(live)
    const puts: Row[] = []
    const drops: Change['drops'][number][] = []
    for (const [projection, rows] of made) {
      const before = live.rows.get(projection)
      for (const [key, row] of rows) if (before?.get(key) !== row) puts.push({ projection, dayId, key, version, body: row.text })
      for (const key of before?.keys() ?? []) if (!rows.has(key)) drops.push({ projection, dayId, key })
    }
    const checkpoints = this.#checkpointsOf(live.folded, [...made.keys()])
    this.#store.write({ puts, drops, checkpoints })

    for (const checkpoint of checkpoints) this.#remember(dayId, checkpoint)
    for (const [projection, rows] of made) {
      live.rows.set(projection, rows)
      live.places.set(projection, version)
    }
    if (placeOf(live.folded) >= this.#headOf(dayId)) live.behindSince = undefined
    for (const { projection, key } of puts) this.#watchers.tell(dayId, projection, key, this.#view(dayId, projection, key)!)
    for (const wake of this.#waiting.get(dayId) ?? []) wake()
  }

  #makeRows(live: LiveDay): LiveDay['rows'] {
    const made: LiveDay['rows'] = new Map()
    for (const [name, view] of Object.entries(this.#views)) {
      try {
        made.set(name, rowsOf(view, live.folded.day, live.rows.get(name)))
        live.faults.delete(name)
      } catch (error) {
        live.faults.set(name, `${name} cannot be made of this day: ${sentenceOf(error)}`)
      }
    }
    return made
  }

  #checkpointsOf({ lastInDay, lastAfter }: FoldedDay, projections: readonly string[]): Checkpoint[] {
    const links = [lastInDay, lastAfter].filter((link) => link !== undefined)
    return projections.flatMap((projection) =>
      links.map(({ stream, version, hash }) => ({ projection, stream, version, hash, revision: this.#views[projection]!.revision })),
    )
  }

  #remember(dayId: string, checkpoint: Checkpoint): void {
    const ofDay = this.#checkpoints.get(dayId) ?? new Map<string, Checkpoint>()
    this.#checkpoints.set(dayId, ofDay.set(`${checkpoint.projection} ${checkpoint.stream}`, checkpoint))
  }

  #view(dayId: string, view: string, key: string): View | undefined {
    const version = this.#placeOf(dayId, view)
    const live = this.#live.get(dayId)
    if (!live) {
      const row = this.#store.row(view, dayId, key)
      return row && { version, body: JSON.parse(row.body) }
    }
    const kept = live.rows.get(view)?.get(key)
    // One object for everyone who reads this row at this version.
    if (kept && kept.view?.version !== version) kept.view = { version, body: kept.view ? kept.view.body : JSON.parse(kept.text) }
    return kept?.view
  }

  #placeOf(dayId: string, view: string): number {
    const live = this.#live.get(dayId)?.places.get(view)
    return live ?? this.#readInFile(dayId, `day/${dayId}`, view) + this.#readInFile(dayId, `after/${dayId}`, view)
  }

  #readInFile(dayId: string, stream: string, view: string): number {
    return this.#checkpoints.get(dayId)?.get(`${view} ${stream}`)?.version ?? 0
  }

  /** Resolves to false when nothing changed for so long. */
  #changed(dayId: string, forMs: number): Promise<boolean> {
    return new Promise((resolve) => {
      const together = this.#waiting.get(dayId) ?? new Set()
      this.#waiting.set(dayId, together)
      const done = (changed: boolean) => {
        clearTimeout(late)
        together.delete(wake)
        if (together.size === 0) this.#waiting.delete(dayId)
        resolve(changed)
      }
      const wake = () => done(true)
      const late = setTimeout(() => done(false), forMs)
      together.add(wake)
      this.#rest.end()
    })
  }

  // Lag

  #headOf(dayId: string): number {
    return (this.#heads.get(`day/${dayId}`) ?? 0) + (this.#heads.get(`after/${dayId}`) ?? 0)
  }

  #behind(dayId: string, view: string): number {
    return Math.max(0, this.#headOf(dayId) - this.#placeOf(dayId, view))
  }

  /** Entries that nobody told us of count as lag as well. */
  async #pollHeads(): Promise<void> {
    try {
      for (const prefix of ['day/', 'after/']) {
        for (const { stream, version } of await this.#ledger.streams(prefix)) this.#heads.set(stream, version)
      }
    } catch {
      return // The ledger says for itself, at /health, that it cannot be read.
    }
    for (const [dayId, live] of this.#live) {
      const isBehind = Object.keys(this.#views).some((name) => this.#behind(dayId, name) > 0)
      live.behindSince = isBehind ? (live.behindSince ?? performance.now()) : undefined
    }
  }
}

const dayIdOf = (stream: string) => stream.slice(stream.indexOf('/') + 1)
const sentenceOf = (error: unknown) => (error instanceof Error ? error.message : String(error))
const nextTick = () => new Promise<void>((resolve) => setImmediate(resolve))
const pause = (ms: number) => new Promise<void>((resolve) => setTimeout(resolve, ms))
