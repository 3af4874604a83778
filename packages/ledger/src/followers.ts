import type { Entry, Head, StreamName } from './ledger.ts'

/** So much may wait for a slow follower in memory; beyond it the entries are read again from where they are kept. */
const waitingAtMost = 1024

/** How long a follower waits after trouble that may pass. */
const troubleMs = 250

interface Source {
  read(stream: StreamName, afterVersion: number): AsyncIterable<Entry>
  streams(prefix: string): Promise<Head[]>
}

interface Follower {
  readonly prefix: string
  waiting: Entry[]
  /** Something did not fit into `waiting`: list and read the streams again. */
  behind: boolean
  wake: () => void
}

/** Those who follow a ledger: each is told of every new entry, and reads for itself what it was not told. */
export class Followers {
  readonly #source: Source
  readonly #mayPass: (error: unknown) => boolean
  readonly #followers = new Set<Follower>()

  /** `mayPass` tells the trouble of reading that passes, as when a server restarts: a follower waits and reads again instead of ending. */
  constructor(source: Source, mayPass: (error: unknown) => boolean = () => false) {
    this.#source = source
    this.#mayPass = mayPass
  }

  /** Tells everyone who follows. Called once an entry is durable, in each stream's own order. */
  tell(entry: Entry): void {
    for (const follower of this.#followers) {
      if (!entry.stream.startsWith(follower.prefix)) continue
      if (follower.waiting.length < waitingAtMost) follower.waiting.push(entry)
      else follower.behind = true
      follower.wake()
    }
  }

  /** A message about new entries was lost: everyone lists and reads again. */
  tellBehind(): void {
    for (const follower of this.#followers) {
      follower.behind = true
      follower.wake()
    }
  }

  async *follow(prefix: string, seen: ReadonlyMap<StreamName, number>, signal: AbortSignal): AsyncIterable<Entry> {
    const reached = new Map(seen)
    // Listening starts before the first read, so that nothing falls between what was read and what is told.
    const follower: Follower = { prefix, waiting: [], behind: true, wake: () => {} }
    const abort = () => follower.wake()
    this.#followers.add(follower)
    signal.addEventListener('abort', abort, { once: true })
    try {
      while (!signal.aborted) {
        if (follower.behind) {
          follower.behind = false
          follower.waiting = []
          for (const head of await this.#heads(follower)) yield* this.#catchUp(head.stream, head.version, reached, follower, signal)
        } else if (follower.waiting.length > 0) {
          const told = follower.waiting
          follower.waiting = []
          for (const entry of told) {
            if (signal.aborted) return
            yield* this.#next(entry, reached, follower, signal)
          }
        } else {
          await new Promise<void>((resolve) => {
            follower.wake = resolve
            if (signal.aborted || follower.behind || follower.waiting.length > 0) resolve()
          })
        }
      }
    } finally {
      this.#followers.delete(follower)
      signal.removeEventListener('abort', abort)
    }
  }

  async *#next(entry: Entry, reached: Map<StreamName, number>, follower: Follower, signal: AbortSignal): AsyncIterable<Entry> {
    const version = reached.get(entry.stream) ?? 0
    if (entry.version <= version) return
    if (entry.version > version + 1) {
      yield* this.#catchUp(entry.stream, entry.version, reached, follower, signal)
      return
    }
    reached.set(entry.stream, entry.version)
    yield entry
  }

  async *#catchUp(
    stream: StreamName,
    to: number,
    reached: Map<StreamName, number>,
    follower: Follower,
    signal: AbortSignal,
  ): AsyncIterable<Entry> {
    const from = reached.get(stream) ?? 0
    if (to <= from) return
    const entries = this.#source.read(stream, from)[Symbol.asyncIterator]()
    try {
      for (;;) {
        const next = await entries.next().catch((error: unknown) => this.#waitOut(error, follower))
        if (next === undefined || next.done || signal.aborted) return
        reached.set(stream, next.value.version)
        yield next.value
      }
    } finally {
      await entries.return?.()
    }
  }

  async #heads(follower: Follower): Promise<Head[]> {
    return (await this.#source.streams(follower.prefix).catch((error: unknown) => this.#waitOut(error, follower))) ?? []
  }

  async #waitOut(error: unknown, follower: Follower): Promise<undefined> {
    if (!this.#mayPass(error)) throw error
    await new Promise((resolve) => setTimeout(resolve, troubleMs))
    follower.behind = true
    return undefined
  }
}
