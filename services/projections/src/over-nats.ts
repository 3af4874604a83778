import { digest } from '@musterbook/evidence/canonical'
import type { View, Views } from '@musterbook/vocabulary/ports'
import { ask } from '@musterbook/wire/ask'
import { mostBytes, type Question } from '@musterbook/wire/question'
import { serve, type Served } from '@musterbook/wire/serve'
import type { NatsConnection } from '@nats-io/transport-node'
import { z } from 'zod'
import { lagsFrom, tellLags } from './lags-over-nats.ts'
import type { Projections } from './projections.ts'
import { Watchers } from './watchers.ts'

/** What a gateway asks of the read models. */
export interface ViewsOverNats extends Views {
  close(): void
}

const queue = 'projections'
/** So long the next row is waited for before the question is asked anew: a screen whose process has ended shows no hold for so long. */
const nextWithinMs = 2_000
/** Days are handed on in parts of about so many bytes. */
const partBytes = mostBytes / 3
const triedAgainAfterMs = 250

/** Answers for the read models over NATS. Any number of processes do, each with rows of its own, folded from the same entries. */
export function serveProjections(connection: NatsConnection, projections: Projections): Served {
  const serving = [
    serve(connection, getQuestion, {
      queue,
      answer: async ({ dayId, view, key, atLeast }) => (await projections.get(dayId, view, key, atLeast)) ?? null,
    }),
    serve(connection, nextQuestion, { queue, answer: (row) => nextRow(projections, row), atOnce: 5_000 }),
    serve(connection, daysQuestion, { queue, answer: async ({ from }) => partOf(await projections.days(), from) }),
    tellLags(connection, () => projections.lags()),
  ]
  return {
    async close() {
      await Promise.all(serving.map((each) => each.close()))
    },
  }
}

/** The read models as another process knows them. */
export function viewsOverNats(connection: NatsConnection): ViewsOverNats {
  return new FarViews(connection)
}

class FarViews implements ViewsOverNats {
  readonly #connection: NatsConnection
  readonly #watchers = new Watchers()
  readonly #watched = new Map<string, Watched>()
  readonly #lags: ReturnType<typeof lagsFrom>

  constructor(connection: NatsConnection) {
    this.#connection = connection
    this.#lags = lagsFrom(connection)
  }

  async get(dayId: string, view: string, key: string, atLeast = 0): Promise<View | undefined> {
    return (await ask(this.#connection, getQuestion, { dayId, view, key, atLeast })) ?? undefined
  }

  async *watch(dayId: string, view: string, key: string, signal: AbortSignal): AsyncIterable<View> {
    const name = `${dayId} ${view} ${key}`
    const watched = this.#watched.get(name) ?? { readers: 0, newest: undefined, ended: new AbortController() }
    this.#watched.set(name, watched)
    if (watched.readers++ === 0) void this.#askOn({ dayId, view, key }, watched)
    try {
      yield* this.#watchers.watch(dayId, view, key, watched.newest, signal)
    } finally {
      if (--watched.readers === 0) {
        watched.ended.abort()
        this.#watched.delete(name)
      }
    }
  }

  async days(): Promise<View[]> {
    const days: View[] = []
    for (let from: number | null = 0; from !== null;) {
      const part: Part = await ask(this.#connection, daysQuestion, { from })
      days.push(...part.days)
      from = part.next
    }
    return days
  }

  lags(): ReturnType<Views['lags']> {
    return this.#lags.worst()
  }

  close(): void {
    for (const { ended } of this.#watched.values()) ended.abort()
    this.#lags.close()
  }

  /** One question is out for each row that somebody watches, however many do. Whichever process answers, a reader never goes back. */
  async #askOn({ dayId, view, key }: RowName, watched: Watched): Promise<void> {
    let after = 0
    let known: string | null = null
    while (!watched.ended.signal.aborted && !this.#connection.isClosed()) {
      try {
        const next: NewRow | null = await ask(this.#connection, nextQuestion, { dayId, view, key, after, known })
        if (!next || watched.ended.signal.aborted) continue
        const { row } = next
        after = row.version
        known = next.digest
        watched.newest = row
        this.#watchers.tell(dayId, view, key, row)
      } catch {
        await new Promise((resolve) => setTimeout(resolve, triedAgainAfterMs))
      }
    }
  }
}

interface Watched {
  readers: number
  newest: View | undefined
  readonly ended: AbortController
}

interface RowName {
  dayId: string
  view: string
  key: string
}

/** The row once it says something else than the reader has; null when it did not for a while. One that this process has not read far enough for waits. */
async function nextRow(projections: Projections, { dayId, view, key, after, known }: RowName & Known): Promise<NewRow | null> {
  const late = AbortSignal.timeout(nextWithinMs)
  for await (const row of projections.watch(dayId, view, key, late)) {
    const own = digestOfRow(row)
    if (row.version >= after && own !== known) return { row, digest: own }
  }
  return null
}

const digests = new WeakMap<object, string>()
/** Rows of one body at several versions are one to a reader. */
function digestOfRow(row: View): string {
  const known = digests.get(row)
  const made = known ?? digest(row.body ?? null)
  if (!known) digests.set(row, made)
  return made
}

function partOf(all: readonly View[], from: number): Part {
  const days: View[] = []
  let bytes = 0
  for (const day of all.slice(from)) {
    bytes += Buffer.byteLength(JSON.stringify(day))
    if (days.length > 0 && bytes > partBytes) break
    days.push(day)
  }
  const next = from + days.length
  return { days, next: next < all.length ? next : null }
}

const name = z.string().min(1).max(200)
const row = { dayId: name, view: name, key: name }
const Row = z.strictObject({ version: z.int().nonnegative(), body: z.unknown() })
const Digest = z.string().regex(/^[0-9a-f]{64}$/)

interface Known {
  after: number
  known: string | null
}
interface NewRow {
  row: View
  digest: string
}
interface Part {
  days: View[]
  next: number | null
}

const getQuestion: Question<RowName & { atLeast: number }, View | null> = {
  subject: 'musterbook.ask.projections.get',
  asked: z.strictObject({ ...row, atLeast: z.int().nonnegative() }),
  said: Row.nullable(),
  // Whoever asks for a version is made to wait for it, up to five seconds.
  withinMs: 7_000,
  patienceMs: 7_000,
}
const nextQuestion: Question<RowName & Known, NewRow | null> = {
  subject: 'musterbook.ask.projections.next',
  asked: z.strictObject({ ...row, after: z.int().nonnegative(), known: Digest.nullable() }),
  said: z.strictObject({ row: Row, digest: Digest }).nullable(),
  withinMs: nextWithinMs + 500,
  patienceMs: nextWithinMs + 500,
}
const daysQuestion: Question<{ from: number }, Part> = {
  subject: 'musterbook.ask.projections.days',
  asked: z.strictObject({ from: z.int().nonnegative() }),
  said: z.strictObject({ days: z.array(Row), next: z.int().nullable() }),
  withinMs: 3_000,
  patienceMs: 6_000,
}
