import type { Entry, Head, StreamName } from './ledger.ts'

/** So much may wait for a slow follower in memory; beyond it the entries are read again from where they are kept. */
const waitingAtMost = 1024

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

/** Followers of a ledger whose appends all happen in this process. */
export class Followers {
  readonly #source: Source
  readonly #followers = new Set<Follower>()

  constructor(source: Source) {
    this.#source = source
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
    signal.addEventListener('abort', abort)
    try {
      while (!signal.aborted) {
        if (follower.behind) {
          follower.behind = false
          follower.waiting = []
          for (const head of await this.#source.streams(prefix)) yield* this.#catchUp(head.stream, head.version, reached, signal)
        } else if (follower.waiting.length > 0) {
          const told = follower.waiting
          follower.waiting = []
          for (const entry of told) {
            if (signal.aborted) return
            yield* this.#next(entry, reached, signal)
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

  async *#next(entry: Entry, reached: Map<StreamName, number>, signal: AbortSignal): AsyncIterable<Entry> {
    const version = reached.get(entry.stream) ?? 0
    if (entry.version <= version) return
    if (entry.version > version + 1) {
      yield* this.#catchUp(entry.stream, entry.version, reached, signal)
      return
    }
    reached.set(entry.stream, entry.version)
    yield entry
  }

  async *#catchUp(stream: StreamName, to: number, reached: Map<StreamName, number>, signal: AbortSignal): AsyncIterable<Entry> {
    const from = reached.get(stream) ?? 0
    if (to <= from) return
    for await (const entry of this.#source.read(stream, from)) {
      if (signal.aborted) return
      reached.set(stream, entry.version)
      yield entry
    }
  }
}
