import {
  type JetStreamClient,
  jetstream,
  JetStreamApiCodes,
  JetStreamApiError,
  type JetStreamManager,
  jetstreamManager,
  type StreamInfo,
} from '@nats-io/jetstream'
import { connect, headers, type MsgHdrs, type NatsConnection, type NodeConnectionOptions } from '@nats-io/transport-node'
import { assertFollows, BrokenChain, emptyHead, placeAfter, readBack, type WrittenEntry } from './entry-text.ts'
import { Followers } from './followers.ts'
import { Names } from './jetstream-names.ts'
import { oldestServer, probeServers, tooOld } from './jetstream-probe.ts'
import { assertAsAsked, configFor, create, probeStream } from './jetstream-streams.ts'
import type { AppendAnswer, Draft, Entry, Head, Ledger, StreamName } from './ledger.ts'

export interface JetStreamOptions {
  /** How to reach the cluster: servers, credentials, TLS. */
  readonly connection: NodeConnectionOptions
  /** The monitoring address of every server, as `http://host:8222`. */
  readonly monitors: readonly string[]
  readonly replicas: 1 | 3 | 5
  /** Keeps ledgers that share a cluster apart. */
  readonly space?: string
  /** So long an append goes on trying before it gives up with an outcome that is not known, milliseconds. */
  readonly patienceMs?: number
}

/** What this process knows of a stream: all of it up to `head`, so that a command told twice is recognised before it is published. */
interface Known {
  head: Head
  readonly versionOf: Map<string, number>
  created: boolean
  queue: Promise<unknown>
}

const hashHeader = 'Musterbook-Hash'
const sequenceHeader = 'Nats-Sequence'
const sealedCode = 10109
const page = 500
/** Streams whose command ids are kept in memory; the one not used for longest is forgotten and read again when it is asked for. */
const knownAtMost = 256
/** How often followers list the streams although no word came: a message of the live feed may be lost, the streams' own versions are not. */
const listAgainMs = 5_000

/**
 * The ledger of many machines. Every promise rests on one condition that the server checks, "only if this is still the last sequence"; what this
 * process remembers is a speed-up and is never trusted for it. Throws with a sentence when the cluster cannot keep the ledger's promise.
 */
export async function jetstreamLedger(options: JetStreamOptions): Promise<Ledger> {
  await probeServers(options.monitors, options.replicas)
  const connection = await connect({ maxReconnectAttempts: -1, ...options.connection })
  try {
    if (tooOld(connection.info?.version)) {
      throw new Error(
        `the NATS server is version ${connection.info?.version ?? 'unknown'}; ${oldestServer} is the oldest that can keep a ledger`,
      )
    }
    const names = new Names(options.space ?? 'musterbook')
    const jsm = await jetstreamManager(connection)
    await probeStream(jsm, names, options.replicas)
    return new JetStreamLedger(connection, jsm, names, options)
  } catch (error) {
    await connection.close()
    throw error
  }
}

class JetStreamLedger implements Ledger {
  readonly #connection: NatsConnection
  readonly #js: JetStreamClient
  readonly #jsm: JetStreamManager
  readonly #names: Names
  readonly #replicas: number
  readonly #patienceMs: number
  readonly #known = new Map<StreamName, Known>()
  /** A sealed stream never changes, so that its head is asked for once, however often the streams are listed. */
  readonly #sealed = new Map<StreamName, Head>()
  readonly #followers: Followers
  #listening: Promise<void> | undefined
  #listAgain: NodeJS.Timeout | undefined

  constructor(connection: NatsConnection, jsm: JetStreamManager, names: Names, options: JetStreamOptions) {
    this.#connection = connection
    this.#js = jetstream(connection)
    this.#jsm = jsm
    this.#names = names
    this.#replicas = options.replicas
    this.#patienceMs = options.patienceMs ?? 15_000
    this.#followers = new Followers(this, (error) => !(error instanceof BrokenChain) && !connection.isClosed())
  }

  append(stream: StreamName, expectedVersion: number, draft: Draft): Promise<AppendAnswer> {
    return this.#inTurn(stream, (known) => this.#append(known, expectedVersion, draft))
  }

  async *read(stream: StreamName, afterVersion: number): AsyncIterable<Entry> {
    const info = await this.#info(stream)
    if (info) yield* this.#readTo(stream, afterVersion, info.state.last_seq)
  }

  async head(stream: StreamName): Promise<Head> {
    const info = await this.#info(stream)
    return info ? this.#headOf(stream, info) : emptyHead(stream)
  }

  async streams(prefix: string): Promise<Head[]> {
    const streams: StreamName[] = []
    for await (const name of this.#jsm.streams.names(this.#names.entriesUnder(prefix))) {
      const stream = this.#names.parse(name)
      if (stream?.startsWith(prefix)) streams.push(stream)
    }
    const heads: Head[] = []
    for (let at = 0; at < streams.length; at += 32)
      heads.push(...(await Promise.all(streams.slice(at, at + 32).map((stream) => this.#sealed.get(stream) ?? this.head(stream)))))
    return heads.filter((head) => head.version > 0).sort((one, other) => (one.stream < other.stream ? -1 : 1))
  }

  find(stream: StreamName, commandId: string): Promise<Entry | undefined> {
    return this.#inTurn(stream, async (known) => {
      await this.#catchUp(known)
      return this.#heard(known, commandId)
    })
  }

  seal(stream: StreamName, at: Head): Promise<Head> {
    return this.#inTurn(stream, async (known) => {
      await this.#catchUp(known)
      if (known.head.version === 0) throw new RangeError(`${stream} holds nothing yet, so there is nothing to seal`)
      if (known.head.sealed || known.head.version !== at.version || known.head.hash !== at.hash) return known.head
      await this.#jsm.streams.update(this.#names.stream(stream), { sealed: true } as object)
      await this.#catchUp(known)
      return known.head
    })
  }

  async *follow(prefix: string, seen: ReadonlyMap<StreamName, number>, signal: AbortSignal): AsyncIterable<Entry> {
    if (signal.aborted) return
    await (this.#listening ??= this.#listen())
    yield* this.#followers.follow(prefix, seen, signal)
  }

  async close(): Promise<void> {
    clearInterval(this.#listAgain)
    await Promise.allSettled([...this.#known.values()].map((known) => known.queue))
    await this.#connection.close()
  }

  /** One thing at a time on each stream: what would only lose races against itself waits instead. */
  #inTurn<T>(stream: StreamName, work: (known: Known) => Promise<T>): Promise<T> {
    const known = this.#known.get(stream) ?? {
      head: emptyHead(stream),
      versionOf: new Map<string, number>(),
      created: false,
      queue: Promise.resolve(),
    }
    this.#known.delete(stream)
    this.#known.set(stream, known)
    const [oldest] = this.#known.keys()
    if (this.#known.size > knownAtMost && oldest !== undefined) this.#forget(oldest)
    const done = known.queue.then(() => work(known))
    known.queue = done.catch(() => {})
    return done
  }

  /** After those in its queue: nobody else must start a second queue on the same stream meanwhile. */
  #forget(stream: StreamName): void {
    const known = this.#known.get(stream)!
    const waitedFor = known.queue
    void waitedFor.then(() => {
      if (this.#known.get(stream) === known && known.queue === waitedFor) this.#known.delete(stream)
    })
  }

  async #append(known: Known, expectedVersion: number, draft: Draft): Promise<AppendAnswer> {
    const { stream } = known.head
    const givesUpAt = performance.now() + this.#patienceMs
    const unsure = new Set<string>() // Hashes of our own entry in attempts that may or may not have been stored.
    for (let attempt = 0; ; attempt++) {
      try {
        if (attempt > 0 || !known.created || known.head.version !== expectedVersion) await this.#catchUp(known)
        const heard = await this.#heard(known, draft.meta.commandId)
        if (heard) return toldBefore(heard, draft, unsure)
        if (known.head.sealed) return { sealed: known.head }
        if (known.head.version !== expectedVersion) return { lostRace: known.head }
        const written = placeAfter(known.head, draft)
        this.#assertFits(written)
        if (!known.created) await this.#create(known)
        if (await this.#publish(known, written, unsure)) return { appended: written.entry, toldTwice: false }
        if (performance.now() > givesUpAt) throw new Error(`${stream} takes no entries at the moment: is its leader there?`)
      } catch (error) {
        if (!mayPass(error) || this.#connection.isClosed() || performance.now() > givesUpAt) throw outcomeUnknown(error, stream, unsure)
      }
      await pause(Math.min(20 * 2 ** attempt, 500) * (0.5 + Math.random()))
    }
  }

  /** Publishes one entry on its condition. True when it is stored; false when it certainly is not; throws when that is not known. */
  async #publish(known: Known, { entry, text }: WrittenEntry, unsure: Set<string>): Promise<boolean> {
    const { stream } = known.head
    const hash = headers()
    hash.set(hashHeader, entry.hash)
    try {
      const ack = await this.#js.publish(this.#names.entries(stream), text, {
        headers: hash,
        timeout: 2_000,
        // No message id: which of the two checks comes first differs between servers, and this condition alone decides.
        expect: { streamName: this.#names.stream(stream), lastSequence: known.head.version },
      })
      if (ack.seq !== entry.version) throw new BrokenChain(`entry ${entry.version} of ${stream} was stored as ${ack.seq}`)
      this.#learn(known, entry)
      return true
    } catch (error) {
      if (wasRefused(error)) return false
      unsure.add(entry.hash)
      throw error
    }
  }

  #assertFits({ entry, text }: WrittenEntry): void {
    const most = (this.#connection.info?.max_payload ?? 1_048_576) - 1_024 // Headers count as well.
    const bytes = Buffer.byteLength(text)
    if (bytes > most) throw new RangeError(`entry ${entry.version} of ${entry.stream} has ${bytes} bytes; NATS takes ${most}`)
  }

  async #create(known: Known): Promise<void> {
    await create(this.#jsm, configFor(this.#names, known.head.stream, this.#replicas))
    known.created = true
  }

  #learn(known: Known, entry: Entry): void {
    known.head = { stream: entry.stream, version: entry.version, hash: entry.hash, sealed: false }
    known.versionOf.set(entry.meta.commandId, entry.version)
  }

  /** Reads on from what is known to where the stream's leader says that it ends. */
  async #catchUp(known: Known): Promise<void> {
    const { stream } = known.head
    const info = await this.#info(stream)
    if (!info) {
      if (known.head.version > 0) throw new BrokenChain(`the stream ${stream} is gone from JetStream`)
      return
    }
    if (!known.created) assertAsAsked(info, configFor(this.#names, stream, this.#replicas))
    known.created = true
    for await (const entry of this.#readTo(stream, known.head.version, info.state.last_seq)) {
      assertFollows(known.head, entry)
      this.#learn(known, entry)
    }
    if (info.config.sealed && info.state.last_seq === known.head.version) known.head = { ...known.head, sealed: true }
  }

  async #heard(known: Known, commandId: string): Promise<Entry | undefined> {
    const version = known.versionOf.get(commandId)
    return version === undefined ? undefined : this.#entryAt(known.head.stream, version)
  }

  /** The entries from after `afterVersion` up to `last`, which must be there: a replica that lags is asked again. */
  async *#readTo(stream: StreamName, afterVersion: number, last: number): AsyncIterable<Entry> {
    let before: { version: number; hash: string | undefined } = { version: afterVersion, hash: undefined }
    const givesUpAt = performance.now() + this.#patienceMs
    while (before.version < last) {
      const from = before.version
      for await (const entry of this.#readPage(stream, from + 1, Math.min(page, last - from))) {
        if (entry.version > last) break
        assertFollows(before, entry)
        yield entry
        before = entry
      }
      if (before.version > from) continue
      if (performance.now() > givesUpAt) throw new Error(`entry ${from + 1} of ${stream} is not there yet on any replica that answered`)
      await pause(20)
    }
  }

  /**
   * Some entries from `version` on, from whichever replica answers; fewer, or none, when it lags or falls silent half-way. Asked without the
   * client's own call for it, which waits for ever for the rest of an answer that has begun.
   */
  async *#readPage(stream: StreamName, version: number, most: number): AsyncIterable<Entry> {
    const answers = await this.#connection.requestMany(
      `$JS.API.DIRECT.GET.${this.#names.stream(stream)}`,
      JSON.stringify({ seq: version, batch: most }),
      { strategy: 'sentinel', maxWait: 3_000, noMux: true },
    )
    for await (const message of answers) {
      const sequence = message.headers?.get(sequenceHeader)
      if (!sequence) return // The end of the page, or word that there is none.
      yield entryOf(stream, Number(sequence), message.string(), message.headers)
    }
  }

  /**
   * The hash that stands beside an entry, the entry itself unread: one that is bent must not keep other streams from being listed. Whoever reads
   * it finds out.
   */
  async #hashAt(stream: StreamName, version: number): Promise<string> {
    const message = await this.#jsm.streams.getMessage(this.#names.stream(stream), { seq: version })
    return message?.header?.get(hashHeader) ?? ''
  }

  async #entryAt(stream: StreamName, version: number): Promise<Entry> {
    // Not a direct read: the stream's leader answers, and has every entry that was acknowledged.
    const message = await this.#jsm.streams.getMessage(this.#names.stream(stream), { seq: version })
    if (!message) throw new BrokenChain(`entry ${version} of ${stream} is missing`)
    return entryOf(stream, version, message.string(), message.header)
  }

  /** A stream whose leader is being chosen does not answer: it is asked once more. */
  async #info(stream: StreamName, again = true): Promise<StreamInfo | undefined> {
    try {
      return await this.#jsm.streams.info(this.#names.stream(stream))
    } catch (error) {
      if (error instanceof JetStreamApiError && error.code === JetStreamApiCodes.StreamNotFound) return undefined
      if (again && mayPass(error)) return this.#info(stream, false)
      throw error
    }
  }

  async #headOf(stream: StreamName, info: StreamInfo): Promise<Head> {
    const version = info.state.last_seq
    if (version === 0) return emptyHead(stream)
    const known = this.#known.get(stream)?.head
    const hash = known?.version === version ? known.hash : await this.#hashAt(stream, version)
    const head = { stream, version, hash, sealed: info.config.sealed }
    if (head.sealed) this.#sealed.set(stream, head)
    return head
  }

  /** The server repeats each stored entry on a live subject. It is a wake-up with the entry in it; gaps are read from the stream itself. */
  async #listen(): Promise<void> {
    const live = this.#connection.subscribe(this.#names.allLive, {
      callback: (error, message) => {
        if (error) return this.#followers.tellBehind()
        const stream = this.#names.parseSubject(message.subject)
        try {
          const version = Number(message.headers?.get(sequenceHeader))
          this.#followers.tell(entryOf(stream, version, message.string(), message.headers))
        } catch {
          this.#followers.tellBehind() // It is not trusted, so the stream is asked; if that does not fit either, the follower hears of it.
        }
      },
    })
    void live.closed.then(() => this.#followers.tellBehind())
    void this.#watchConnection()
    this.#listAgain = setInterval(() => this.#followers.tellBehind(), listAgainMs)
    this.#listAgain.unref()
    await this.#connection.flush()
  }

  async #watchConnection(): Promise<void> {
    for await (const { type } of this.#connection.status()) if (type === 'reconnect') this.#followers.tellBehind()
  }
}

/** Wrong last sequence, the same while another is in flight, and sealed: all three say that nothing was stored. */
const refusedCodes = new Set<number>([
  JetStreamApiCodes.StreamWrongLastSequence,
  JetStreamApiCodes.StreamWrongLastSequenceUnknown,
  sealedCode,
])

/** Nobody listens on the subject of a stream that is new or between two leaders (the client calls it so): then nothing was stored either. */
function wasRefused(error: unknown): boolean {
  return (error instanceof JetStreamApiError && refusedCodes.has(error.code)) || (error as Error).name === 'JetStreamNotEnabled'
}

function outcomeUnknown(error: unknown, stream: StreamName, unsure: ReadonlySet<string>): unknown {
  if (unsure.size === 0 || error instanceof BrokenChain) return error
  return new Error(`it is not known whether the entry stands in ${stream}: tell it again with the same command id`, { cause: error })
}

/** Trouble that a leader election, a restart or a reconnection ends; everything else would only come again. */
function mayPass(error: unknown): boolean {
  if (error instanceof BrokenChain || error instanceof TypeError || error instanceof RangeError) return false
  if (error instanceof JetStreamApiError) return error.status >= 500 || error.code === 10008
  return (
    error instanceof Error &&
    /Timeout|NoResponders|Request|Connection|Draining|JetStreamStatus|is not there yet/i.test(`${error.name} ${error.message}`)
  )
}

function toldBefore(heard: Entry, draft: Draft, unsure: ReadonlySet<string>): AppendAnswer {
  if (heard.meta.bodyDigest !== draft.meta.bodyDigest) return { commandIdReused: heard }
  return { appended: heard, toldTwice: !unsure.has(heard.hash) }
}

function entryOf(stream: StreamName, version: number, text: string, hash: MsgHdrs | undefined): Entry {
  return readBack(text, hash?.get(hashHeader) ?? '', stream, version)
}

function pause(milliseconds: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, milliseconds))
}
