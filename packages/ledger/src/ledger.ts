/** 'day/<id>', 'after/<id>', 'site/<id>', 'people/<site>' and so on: a kind, a slash, an id. */
export type StreamName = string

/** Who did it, on what, when by both clocks, on which picture of the day. */
export interface Meta {
  readonly commandId: string
  /** The act's name, as `startAttempt`. */
  readonly command: string
  /** Digest of the command as sent: the same id with another body is `commandIdReused`. */
  readonly bodyDigest: string
  /** null: the device alone, as for a stop on a locked device or at the kiosk. */
  readonly personId: string | null
  readonly deviceId: string
  readonly deviceSequence: number
  /** The device's clock as it stood, epoch milliseconds; never rewritten. */
  readonly occurredAt: number
  /** The device's steady clock, milliseconds since an instant of its own; null when it has none. */
  readonly steadyMs: number | null
  /** Which steady clock that is, where the device says so: it begins a new one each time it is started. */
  readonly steadyOf?: string
  /** Measured device-minus-ledger offset, and the band around it (±). */
  readonly offsetMs: number
  readonly bandMs: number
  /** Version of the stream that the device's screen showed; 0 when unknown. */
  readonly seenVersion: number
}

export interface LedgerEvent {
  readonly type: string
  readonly [key: string]: unknown
}

/** The outcome of one command, before it has a place: one or more events, kept whole. */
export interface Draft {
  readonly meta: Meta
  /** The ledger's clock, epoch milliseconds. */
  readonly recordedAt: number
  readonly events: readonly LedgerEvent[]
}

/** A draft in its place. `hash` covers everything else here; `prevHash` is the hash of the entry before, 64 zeros for the first. */
export interface Entry extends Draft {
  readonly stream: StreamName
  readonly version: number
  readonly prevHash: string
  readonly hash: string
}

/** Where a stream stands: version 0 and 64 zeros when it is new. */
export interface Head {
  readonly stream: StreamName
  readonly version: number
  readonly hash: string
  readonly sealed: boolean
}

export type Appended = { readonly appended: Entry; readonly toldTwice: boolean }
export type AppendAnswer = Appended | { readonly lostRace: Head } | { readonly commandIdReused: Entry } | { readonly sealed: Head }

/** What reads a ledger and can never change it. */
export interface LedgerReader {
  /** The entries after `afterVersion` that stand there now, in order. Throws when one does not fit the chain. */
  read(stream: StreamName, afterVersion: number): AsyncIterable<Entry>
  head(stream: StreamName): Promise<Head>
  /** The heads of all streams whose name starts with `prefix`, by name. */
  streams(prefix: string): Promise<Head[]>
  /** The entry that this command made in this stream. */
  find(stream: StreamName, commandId: string): Promise<Entry | undefined>
  close(): Promise<void>
}

/** Keeps streams of entries. Nothing that it acknowledged is lost, doubled or changed. */
export interface Ledger extends LedgerReader {
  /**
   * Adds one entry whole, if the stream is still at `expectedVersion` (0 when it is new). A command that the stream has already heard gets its
   * first entry back, whatever version is expected and even after the seal: a tablet may tell us twice. Otherwise the same id with another body is
   * `commandIdReused`, a sealed stream says `sealed`, and a stream that has moved on says `lostRace`. Rejects when the outcome is not known:
   * tell it again, with the same command id.
   */
  append(stream: StreamName, expectedVersion: number, draft: Draft): Promise<AppendAnswer>
  /**
   * Closes the stream for good, if it still stands at `at`. The answer is where it stands now: `sealed: false` says that it had moved on, and
   * only a head that comes back `sealed: true` may be signed. Sealing twice is sealing once.
   */
  seal(stream: StreamName, at: Head): Promise<Head>
  /**
   * Each stream under `prefix` in its own order, from after the version in `seen`, then live, new streams included, until `signal` aborts.
   * Between streams no order is promised.
   */
  follow(prefix: string, seen: ReadonlyMap<StreamName, number>, signal: AbortSignal): AsyncIterable<Entry>
}
