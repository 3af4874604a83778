import { emptyHead, placeAfter } from './entry-text.ts'
import { Followers } from './followers.ts'
import type { AppendAnswer, Draft, Entry, Head, Ledger, StreamName } from './ledger.ts'
import { type Connection, lockForWriting, openToRead, openToWrite } from './sqlite-file.ts'
import { entryOf, headReader, readerOn } from './sqlite-reader.ts'

interface Options {
  file: string
  /** Told once, when a sync to disk has failed: what is on the disk is not known any more, so the process must end and start anew. */
  onStopped?: (reason: Error) => void
}

interface Waiting {
  readonly stream: StreamName
  readonly expectedVersion: number
  readonly draft: Draft
  readonly resolve: (answer: AppendAnswer) => void
  readonly reject: (reason: unknown) => void
}

/** The embedded ledger: one file, one writing process. Throws with a sentence when another process has the file. */
export function sqliteLedger({ file, onStopped }: Options): Ledger {
  const lock = lockForWriting(file)
  const opened: Connection[] = [lock]
  try {
    const writer = openToWrite(file)
    opened.push(writer)
    const reader = openToRead(file)
    opened.push(reader)
    return new SqliteLedger(opened, writer, readerOn(reader), onStopped)
  } catch (error) {
    for (const connection of opened.reverse()) connection.close()
    throw error
  }
}

class SqliteLedger implements Ledger {
  readonly read
  readonly head
  readonly streams
  readonly find
  readonly #opened: Connection[]
  readonly #onStopped: ((reason: Error) => void) | undefined
  readonly #followers: Followers
  readonly #commit: (group: readonly Waiting[]) => (() => void)[]
  readonly #seal: (stream: StreamName, at: Head) => Head
  #waiting: Waiting[] = []
  #stopped: Error | undefined

  constructor(opened: Connection[], writer: Connection, reader: ReturnType<typeof readerOn>, onStopped: Options['onStopped']) {
    this.#opened = opened
    this.#onStopped = onStopped
    this.read = reader.read
    this.head = reader.head
    this.streams = reader.streams
    this.find = reader.find
    this.#followers = new Followers(reader)
    const appendOne = appender(writer)
    const commit = writer.transaction((group: readonly Waiting[]) => group.map((waiting) => this.#settle(waiting, appendOne)))
    this.#commit = commit.immediate
    this.#seal = sealer(writer)
  }

  append(stream: StreamName, expectedVersion: number, draft: Draft): Promise<AppendAnswer> {
    if (this.#stopped) return Promise.reject(this.#stopped)
    return new Promise((resolve, reject) => {
      if (this.#waiting.push({ stream, expectedVersion, draft, resolve, reject }) === 1) setImmediate(() => this.#flush())
    })
  }

  async seal(stream: StreamName, at: Head): Promise<Head> {
    if (this.#stopped) throw this.#stopped
    this.#flush() // What was asked for before the seal comes before it.
    try {
      return this.#seal(stream, at)
    } catch (error) {
      throw this.#afterFailure(error)
    }
  }

  follow(prefix: string, seen: ReadonlyMap<StreamName, number>, signal: AbortSignal): AsyncIterable<Entry> {
    return this.#followers.follow(prefix, seen, signal)
  }

  async close(): Promise<void> {
    this.#flush()
    this.#stopped ??= new Error('the ledger is closed')
    for (const connection of this.#opened.reverse()) connection.close()
    this.#opened.length = 0
  }

  /** Everything asked for within one tick shares one transaction, hence one sync to disk, and is answered only after it. */
  #flush(): void {
    const group = this.#waiting
    if (group.length === 0) return
    this.#waiting = []
    try {
      for (const answer of this.#commit(group)) answer()
    } catch (error) {
      const reason = this.#afterFailure(error)
      for (const waiting of group) waiting.reject(reason)
    }
  }

  /** What to tell one caller once the transaction is on disk. A draft that cannot be written spoils nobody else's. */
  #settle(waiting: Waiting, appendOne: ReturnType<typeof appender>): () => void {
    try {
      const answer = appendOne(waiting)
      return () => {
        if ('appended' in answer && !answer.toldTwice) this.#followers.tell(answer.appended)
        waiting.resolve(answer)
      }
    } catch (error) {
      if ('code' in (error as object)) throw error // SQLite's own: the transaction goes back whole.
      return () => waiting.reject(error)
    }
  }

  /** A failed sync may have dropped the very pages it failed on, and a second try would succeed without them: so there is no second try. */
  #afterFailure(error: unknown): unknown {
    const code = (error as { code?: string }).code ?? ''
    if (!code.startsWith('SQLITE_IOERR') && !code.startsWith('SQLITE_CORRUPT')) return error
    if (!this.#stopped) {
      const sentence = `the ledger has stopped: writing to the disk failed (${code}). Check the disk, then start again.`
      this.#stopped = new Error(sentence, { cause: error })
      this.#onStopped?.(this.#stopped)
    }
    return this.#stopped
  }
}

/** Decides and writes one entry, inside a transaction that holds the write lock: so the head it reads is the head. */
function appender(db: Connection): (waiting: Waiting) => AppendAnswer {
  const readHead = headReader(db)
  const readCommand = db.prepare('SELECT version, commandId, hash, text FROM entry WHERE stream = ? AND commandId = ?')
  const insert = db.prepare('INSERT INTO entry (stream, version, commandId, hash, text) VALUES (?, ?, ?, ?, ?)')

  const heardBefore = ({ stream, draft }: Waiting): AppendAnswer | undefined => {
    const row = readCommand.get(stream, draft.meta.commandId) as Parameters<typeof entryOf>[1] | undefined
    if (!row) return undefined
    const heard = entryOf(stream, row)
    return heard.meta.bodyDigest === draft.meta.bodyDigest ? { appended: heard, toldTwice: true } : { commandIdReused: heard }
  }

  return (waiting) => {
    const { stream, expectedVersion, draft } = waiting
    const head = readHead(stream)
    if (head.sealed || head.version !== expectedVersion)
      return heardBefore(waiting) ?? (head.sealed ? { sealed: head } : { lostRace: head })

    const { entry, text } = placeAfter(head, draft)
    try {
      insert.run(stream, entry.version, entry.meta.commandId, entry.hash, text)
      return { appended: entry, toldTwice: false }
    } catch (error) {
      // Nearly every command is new, so it is not looked up first: the table's own rule finds one that is not, and undoes that insert alone.
      const heard = (error as { code?: string }).code === 'SQLITE_CONSTRAINT_UNIQUE' ? heardBefore(waiting) : undefined
      if (!heard) throw error
      return heard
    }
  }
}

function sealer(db: Connection): (stream: StreamName, at: Head) => Head {
  const readHead = headReader(db)
  const insert = db.prepare('INSERT OR IGNORE INTO sealed (stream, version, hash) VALUES (?, ?, ?)')
  return db.transaction((stream: StreamName, at: Head): Head => {
    const head = readHead(stream)
    if (head.version === emptyHead(stream).version) throw new RangeError(`${stream} holds nothing yet, so there is nothing to seal`)
    if (head.version === at.version && head.hash === at.hash) insert.run(stream, head.version, head.hash)
    return readHead(stream)
  }).immediate
}
