import type { View, Views } from '@musterbook/vocabulary/ports'
import type { ViewName } from '../view-roles.ts'
import { beat, differenceOf, retry, type Sent, sentOf } from './messages.ts'
import { paced } from './paced.ts'
import { isUrgent } from './urgency.ts'

/** Screens refresh twice a second at most; what stops people does not wait. */
const gapMs = 500
/** A stream that is silent for longer has lost its server. */
const beatMs = 10_000
/** So many messages wait for a reader that is slow; beyond them it gets the newest row whole when it comes back. */
const waitingAtMost = 8

interface RowName {
  readonly dayId: string
  readonly view: ViewName
  readonly key: string
}

export interface Joining {
  /** The version that the reader says it has; 0: none. */
  readonly seen: number
  /** It can apply differences to what it was sent before. */
  readonly differences: boolean
  /** Aborts when who reads may see this no longer. */
  readonly ended: AbortSignal | null
}

interface Parts {
  readonly views: Pick<Views, 'watch'>
  readonly onBeat: () => void
  readonly onBroken: (error: unknown, row: RowName) => void
}

/** Rows that screens watch. Each is followed once, for all its readers together. */
export class LiveRows {
  readonly #parts: Parts
  readonly #rows = new Map<string, LiveRow>()

  constructor(parts: Parts) {
    this.#parts = parts
  }

  /** The row as server-sent events, until the reader goes or may see it no longer. */
  join(name: RowName, joining: Joining): ReadableStream<Uint8Array> {
    const id = JSON.stringify([name.dayId, name.view, name.key])
    const row = this.#rows.get(id) ?? this.#follow(id, name)
    return row.join(joining)
  }

  #follow(id: string, name: RowName): LiveRow {
    const { views, onBeat, onBroken } = this.#parts
    const row = new LiveRow(onBeat, () => this.#rows.delete(id))
    this.#rows.set(id, row)
    row
      .follow(views.watch(name.dayId, name.view, name.key, row.ended), name.view)
      .catch((error: unknown) => row.ended.aborted || onBroken(error, name))
      .finally(() => row.end())
    return row
  }
}

interface Reader {
  readonly joining: Joining
  readonly controller: ReadableStreamDefaultController<Uint8Array>
  /** What it shows. */
  shows: Sent | undefined
  /** It was sent whole on this line, and not only said to be there: only then a difference fits. */
  isSure: boolean
  readonly leave: () => void
}

class LiveRow {
  readonly #readers = new Set<Reader>()
  readonly #ending = new AbortController()
  readonly #onEnd: () => void
  readonly #beating: NodeJS.Timeout
  #sent: Sent | undefined

  constructor(onBeat: () => void, onEnd: () => void) {
    this.#onEnd = onEnd
    this.#beating = setInterval(() => {
      onBeat()
      // A reader that has not taken what waits for it hears soon enough.
      for (const { controller } of this.#readers) if (controller.desiredSize === waitingAtMost) controller.enqueue(beat)
    }, beatMs)
    this.#beating.unref()
  }

  get ended(): AbortSignal {
    return this.#ending.signal
  }

  async follow(rows: AsyncIterable<View>, view: ViewName): Promise<void> {
    const urgent = (before: View | undefined, now: View) => isUrgent(view, before, now)
    for await (const row of paced(rows, { gapMs, isUrgent: urgent, signal: this.ended })) this.#send(row)
  }

  join(joining: Joining): ReadableStream<Uint8Array> {
    let reader: Reader | undefined
    return new ReadableStream<Uint8Array>(
      {
        start: (controller) => {
          controller.enqueue(retry)
          reader = this.#welcome(joining, controller)
        },
        pull: () => reader && this.#catchUp(reader),
        cancel: () => reader?.leave(),
      },
      { highWaterMark: waitingAtMost },
    )
  }

  end(): void {
    if (this.ended.aborted) return
    this.#ending.abort()
    clearInterval(this.#beating)
    this.#onEnd()
    for (const { leave, controller } of this.#readers) {
      leave()
      controller.close()
    }
  }

  #welcome(joining: Joining, controller: Reader['controller']): Reader | undefined {
    const { ended } = joining
    const close = () => {
      reader.leave()
      controller.close()
    }
    const reader: Reader = {
      joining,
      controller,
      shows: undefined,
      isSure: false,
      leave: () => {
        ended?.removeEventListener('abort', close)
        this.#readers.delete(reader)
        if (this.#readers.size === 0) this.end()
      },
    }
    this.#readers.add(reader)
    if (ended?.aborted) close()
    else {
      ended?.addEventListener('abort', close)
      if (this.#sent) this.#begin(reader, this.#sent)
    }
    return reader
  }

  /** A reader that comes back has what it had. Any other version it is shown, an older one too: the data may have been restored meanwhile. */
  #begin(reader: Reader, sent: Sent): void {
    if (reader.joining.seen === sent.row.version) reader.shows = sent
    else hand(reader, sent, sent.whole())
  }

  #send(row: View): void {
    const before = this.#sent
    const sent = sentOf(row)
    this.#sent = sent
    if (!before) return this.#readers.forEach((reader) => this.#begin(reader, sent))
    const difference = differenceOf(before, sent)
    for (const reader of this.#readers) {
      const isNear = reader.joining.differences && reader.isSure && reader.shows === before
      hand(reader, sent, isNear ? difference() : sent.whole())
    }
  }

  /** One that was slow has missed what was sent meanwhile: it gets the newest. */
  #catchUp(reader: Reader): void {
    const sent = this.#sent
    if (sent && reader.shows && reader.shows !== sent) hand(reader, sent, sent.whole())
  }
}

function hand(reader: Reader, sent: Sent, message: Uint8Array): void {
  if ((reader.controller.desiredSize ?? 0) <= 0) return
  // Before it is handed over, which may ask for more within.
  reader.shows = sent
  reader.isSure = true
  reader.controller.enqueue(message)
}
