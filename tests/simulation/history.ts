import type { Entry } from '@musterbook/ledger/ledger'
import { observations, type ActName } from '@musterbook/vocabulary/act-table'
import type { Answer, Command } from '@musterbook/vocabulary/command'
import { historyFaults, type Seen, type Told } from '../faults/history.ts'
import type { Timeline } from './timeline.ts'
import type { DayRecord } from './record.ts'

interface Asked {
  readonly askedAt: number
  stream: string
  acknowledged?: { at: number; version: number; hash: string }
}

/** What every client saw of every command: asked, acknowledged as recorded or refused, or never known. */
export class History {
  readonly #timeline: Timeline
  readonly #record: DayRecord
  readonly #asked = new Map<string, Asked>()
  readonly #readers = new Map<string, string[]>()
  /** Promises that were seen to break while answers came in. */
  readonly broken: string[] = []
  readonly counts = { asked: 0, recorded: 0, refused: 0 }

  constructor(timeline: Timeline, record: DayRecord) {
    this.#timeline = timeline
    this.#record = record
  }

  invoked({ envelope, dayId }: Pick<Command, 'envelope' | 'dayId'>, stream = `day/${dayId}`): void {
    this.#asked.set(envelope.commandId, { askedAt: this.#timeline.now, stream })
    this.counts.asked++
  }

  acknowledged(command: Command, answer: Answer): void {
    const { act, envelope } = command
    const { commandId } = envelope
    if ('commandIdReused' in answer) return void this.broken.push(`${commandId} was told once and is said to be another command`)
    if ('noSuchDay' in answer) return void this.broken.push(`${commandId} was told of a day that is open and is said not to be`)
    const hasHappened =
      (observations as readonly ActName[]).includes(act) || (envelope.decidedOnDevice && (act === 'startAttempt' || act === 'startWave'))
    if ('refused' in answer) {
      this.counts.refused++
      if (hasHappened) this.broken.push(`${act} had happened and was refused: ${answer.refused.rule}`)
    } else this.counts.recorded++
    const version = 'recorded' in answer ? answer.recorded.version : answer.version
    const entry = this.#record.made.get(commandId)
    if (!entry || entry.version !== version) return void this.broken.push(`${commandId} was acknowledged as ${version} and is not there`)
    this.stored(commandId, entry)
  }

  /** The client has heard where it stands. */
  stored(commandId: string, { stream, version, hash }: Pick<Entry, 'stream' | 'version' | 'hash'>): void {
    const asked = this.#asked.get(commandId)
    if (asked) Object.assign(asked, { stream, acknowledged: { at: this.#timeline.now, version, hash } })
  }

  /** A reader was given one more entry, in the order in which it was given. */
  given(reader: string, { stream, version, hash }: Entry): void {
    const name = `${reader} ${stream}`
    const hashes = this.#readers.get(name) ?? []
    this.#readers.set(name, hashes)
    // Told twice is the same place once.
    if (version === hashes.length && hashes[version - 1] === hash) return
    if (version !== hashes.length + 1) this.broken.push(`${reader} was given entry ${version} of ${stream} after ${hashes.length}`)
    hashes.push(hash)
  }

  unanswered(): string[] {
    return [...this.#asked].filter(([, asked]) => !asked.acknowledged).map(([commandId]) => commandId)
  }

  /** Every promise that a client or a reader would see broken, now that the streams read so. */
  faults(streams: ReadonlyMap<string, readonly Entry[]>, seen: readonly Seen[]): string[] {
    const told: Told[] = [...this.#asked].map(([commandId, { askedAt, stream, acknowledged }]) => ({
      // Who never heard does not know on which side of the seal it stands.
      stream: acknowledged ? stream : (this.#record.made.get(commandId)?.stream ?? stream),
      commandId,
      askedAt,
      ...(acknowledged && { acknowledged }),
    }))
    const ofServers = [...streams].flatMap(([stream, entries]) =>
      entries
        .filter(({ meta }) => meta.commandId.startsWith('site-entry-'))
        .map(({ meta }): Told => ({ stream, commandId: meta.commandId, askedAt: 0 })),
    )
    const readers = [...this.#readers].map(([name, hashes]): Seen => ({ stream: name.slice(name.indexOf(' ') + 1), hashes }))
    return historyFaults([...told, ...ofServers], streams, [...seen, ...readers])
  }
}
