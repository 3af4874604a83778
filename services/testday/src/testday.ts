import type { Day } from '@musterbook/day/day'
import { decide } from '@musterbook/day/decide'
import { evolve } from '@musterbook/day/evolve'
import type { Now } from '@musterbook/day/decision'
import { canonical, digest } from '@musterbook/evidence/canonical'
import { hashOfText } from '@musterbook/ledger/entry-text'
import type { Draft, Entry, Ledger, Meta } from '@musterbook/ledger/ledger'
import type { Answer, Command, TestDay } from '@musterbook/vocabulary/command'
import { DayEvent } from '@musterbook/vocabulary/events'
import type { DayId, DeviceId, SiteId } from '@musterbook/vocabulary/ids'
import { metaOf } from '@musterbook/vocabulary/meta-of'
import { refusal, type Refusal } from '@musterbook/vocabulary/refusals'
import { answerFrom } from './answer.ts'
import { DayFile, UnreadableDay } from './day-file.ts'
import { takeOverHold, unheardHolds } from './holds-of-others.ts'
import { Queue } from './queue.ts'
import { draftOfSiteEntry, takenOverReadings, withMore } from './site-entries.ts'

export interface Parts {
  ledger: Ledger
  /** The ledger's clock, epoch milliseconds. */
  clock: { now(): number }
  /** The clock runs at another speed: no day but a rehearsal is opened. */
  rehearsalOnly: boolean
  /** How far the site's stream is written, asked of whoever writes it. Rejects or hangs: unknown, and nothing starts outdoors. */
  siteHead: (siteId: SiteId) => Promise<number>
  /** Waits so many milliseconds; a simulation brings its own. */
  pause?: (ms: number) => Promise<void>
  /** From 0 up to 1, for the jitter between tries. */
  chance?: () => number
  /** The day after one more entry; a simulation, where many processes read the same entries, folds each once. */
  fold?: typeof evolve
}

export interface RunningTestDay extends TestDay {
  /** When the ledger's clock last heard each device, in this process: of commands, and of contact that the gateway tells of. */
  contactAges(): ReadonlyMap<DeviceId, number>
  heard(deviceId: DeviceId): void
  /** What keeps days or sites from being served now, as sentences. */
  troubles(): string[]
  /** Answers what was asked, then stops. */
  close(): Promise<void>
}

/** The only writer of day streams. Commands in, entries out; readings of the site into every open day. */
export function openTestDay(parts: Parts): RunningTestDay {
  return new Desk(parts)
}

/** Someone was faster this often in a row, or the ledger did not say: whoever asked tells it again, under the same command id. */
const triesAtMost = 12
const siteHeadWithinMs = 1_000
const retryAfterMs = 1_000

/** What must be known of the site before it is decided. */
const restsOnReadings: ReadonlySet<string> = new Set(['startAttempt', 'startWave', 'proposeLift', 'confirmLift'])
/** What goes ahead of starts that wait, and the starts that it goes ahead of. */
const urgent: ReadonlySet<string> = new Set(['raiseHold', 'stopStudent'])
const givesWay: ReadonlySet<string> = new Set(['callUp', 'startAttempt', 'startWave'])

type Entered = { entry: Entry; toldTwice: boolean } | 'commandIdReused' | 'nothingToEnter'

class Desk implements RunningTestDay {
  readonly #parts: Required<Parts>
  readonly #files = new Map<DayId, Promise<DayFile>>()
  readonly #queues = new Map<DayId, Queue>()
  readonly #lastHeard = new Map<DeviceId, number>()
  readonly #troubles = new Map<string, string>()
  readonly #closing = new AbortController()
  readonly #following: Promise<void>

  constructor(parts: Parts) {
    this.#parts = { pause: (ms) => new Promise((resolve) => setTimeout(resolve, ms)), chance: Math.random, fold: evolve, ...parts }
    this.#following = this.#followSites()
  }

  tell(command: Command): Promise<Answer> {
    this.heard(command.by.deviceId)
    const { act, dayId } = command
    return this.#queueOf(dayId).add(() => this.#answer(command), { urgent: urgent.has(act), givesWay: givesWay.has(act) })
  }

  contactAges(): ReadonlyMap<DeviceId, number> {
    return this.#lastHeard
  }

  heard(deviceId: DeviceId): void {
    this.#lastHeard.set(deviceId, this.#parts.clock.now())
  }

  troubles(): string[] {
    return [...this.#troubles.values()]
  }

  async close(): Promise<void> {
    this.#closing.abort()
    await this.#following
    await Promise.all([...this.#queues.values()].map((queue) => queue.idle()))
  }

  async #answer(command: Command): Promise<Answer> {
    const file = await this.#fileOf(command.dayId)
    if (command.act !== 'openDay' && !(await this.#isThere(file))) return { noSuchDay: true }

    let unwritten: Refusal | undefined
    const bodyDigest = digestOf(command)
    const entered = await this.#enter(file, command.envelope.commandId, bodyDigest, async () => {
      const now = await this.#nowFor(command, file)
      const { day } = file
      const { events, refused } = this.#decide(command, day, now)
      // A day that never opened has nowhere to keep a refusal.
      if (refused && day.version === 0) unwritten = refused
      const written = { meta: metaOf(command.act, command.by, command.envelope, bodyDigest), recordedAt: now.recordedAt }
      const more = command.act === 'openDay' && !refused ? await this.#takenOver(withMore(day, events, written), written) : []
      return { on: day, draft: unwritten ? undefined : { ...written, events: [...events, ...more] } }
    })

    if (unwritten) return { refused: unwritten, version: 0, toldTwice: false }
    if (typeof entered === 'string') return { commandIdReused: true }
    await this.#closeIfSealed(file)
    if (command.act === 'openDay') this.#afterOpening(file)
    return answerFrom(entered.entry, entered.toldTwice)
  }

  /** Another process may have opened the day since this one looked. */
  async #isThere(file: DayFile): Promise<boolean> {
    if (file.day.version > 0) return true
    await file.readOn()
    if (file.day.version > 0) return true
    const { version } = await this.#parts.ledger.head(file.next.stream)
    if (version > 0) throw new Error(`${file.next.stream} stands at ${version} and cannot be read yet: tell it again`)
    return false
  }

  #decide(command: Command, day: Day, now: Now): { events: readonly DayEvent[]; refused?: Refusal } {
    const isReal = command.act === 'openDay' && !(command as Command<'openDay'>).body.facts.rehearsal
    if (isReal && this.#parts.rehearsalOnly && day.version === 0) return { events: [], refused: refusal('notRehearsal') }
    return decide(command, day, now)
  }

  /** Before anything starts outdoors or a hold is lifted, this day has every reading that its site has. */
  async #nowFor(command: Command, file: DayFile): Promise<Now> {
    const { clock } = this.#parts
    if (!restsOnReadings.has(command.act) || !file.siteId || !file.isOpen) {
      return { recordedAt: clock.now(), siteVersionRead: file.day.siteVersion, siteHead: 'unknown' }
    }
    const siteHead = await this.#siteHead(file.siteId)
    // What cannot be brought in now leaves the day behind the head, and decide says so.
    if (siteHead !== file.day.siteVersion) await this.#bringIn(file).catch((error) => this.#note(file.dayId, error))
    return { recordedAt: clock.now(), siteVersionRead: file.day.siteVersion, siteHead }
  }

  async #siteHead(siteId: SiteId): Promise<number | 'unknown'> {
    let late: NodeJS.Timeout | undefined
    const tooLate = new Promise<'unknown'>((resolve) => {
      late = setTimeout(() => resolve('unknown'), siteHeadWithinMs)
    })
    const asked = this.#parts.siteHead(siteId).catch(() => 'unknown' as const)
    return Promise.race([asked, tooLate]).finally(() => clearTimeout(late))
  }

  /**
   * Makes the one entry of a command from what `draftOn` says of the day as it stands, and says it again of the day as it then stands
   * whenever somebody was faster. An outcome that is not known is looked up before anything is said again.
   */
  async #enter(
    file: DayFile,
    commandId: string,
    bodyDigest: string,
    draftOn: () => Promise<{ on: Day; draft: Draft | undefined }>,
  ): Promise<Entered> {
    const { ledger, pause, chance } = this.#parts
    let outcomeUnknown: unknown
    for (let tries = 1; tries <= triesAtMost; tries++) {
      const before = await file.heard(commandId)
      if (before) return before.meta.bodyDigest === bodyDigest ? { entry: before, toldTwice: !outcomeUnknown } : 'commandIdReused'

      await this.#closeIfSealed(file)
      const { on, draft } = await draftOn()
      if (!draft) return 'nothingToEnter'
      if (on !== file.day) continue // The day moved on between deciding and now: decide again.
      const { stream, version } = file.next
      const written = asWritten(draft, file)
      try {
        const answer = await ledger.append(stream, version, written)
        if ('appended' in answer) {
          if (answer.appended.version > version + 1) await file.readOn()
          file.take(answer.appended, answer.toldTwice ? 'asRead' : 'justParsed')
          return { entry: answer.appended, toldTwice: answer.toldTwice && !outcomeUnknown }
        }
        if ('commandIdReused' in answer) return 'commandIdReused'
      } catch (error) {
        outcomeUnknown = error
      }
      await pause(tries * 4 * chance())
      await file.readOn()
    }
    throw new Error(`${file.next.stream} did not take command ${commandId}: tell it again`, { cause: outcomeUnknown })
  }

  /** Puts what the site heard since into this day, one entry each. */
  async #bringIn(file: DayFile): Promise<void> {
    if (!file.isOpen) return
    const { ledger, clock } = this.#parts
    for await (const entry of ledger.read(`site/${file.siteId}`, file.day.siteVersion)) {
      const { commandId, bodyDigest } = draftOfSiteEntry(file.day, entry, 0).meta
      await this.#enter(file, commandId, bodyDigest, async () => {
        const on = file.day
        return { on, draft: file.isOpen ? draftOfSiteEntry(on, entry, clock.now()) : undefined }
      })
    }
  }

  /** Holds of the site's other days first: a reading raises none where one of heat stands already. */
  async #takenOver(day: Day, written: Pick<Draft, 'meta' | 'recordedAt'>): Promise<DayEvent[]> {
    const holds = unheardHolds(day, await this.#othersOf(day)).map((hold) => takeOverHold(day, hold, written.meta))
    return [...holds, ...(await takenOverReadings(withMore(day, holds, written), this.#parts.ledger, written))]
  }

  /** Other open days of the same site, as they stand now. */
  async #othersOf(day: Day): Promise<Day[]> {
    const files = (await this.#openFiles()).filter((file) => file.siteId === day.opened?.facts.siteId && file.dayId !== day.dayId)
    await Promise.all(files.map((file) => file.readOn()))
    return files.filter((file) => file.isOpen).map((file) => file.day)
  }

  /** While the day was opening, the site may have heard more, and another day may have been given a hold. */
  #afterOpening(file: DayFile): void {
    this.#receive(file)
    void this.#queueOf(file.dayId)
      .add(() => this.#takeOverSinceOpening(file), { urgent: true })
      .catch((error) => this.#note(file.dayId, error))
  }

  async #takeOverSinceOpening(file: DayFile): Promise<void> {
    const first = await this.#firstEntry(file)
    for (const hold of unheardHolds(file.day, await this.#othersOf(file.day))) {
      const commandId = `taken-over-${hold.holdId}`
      const meta: Meta = { ...first.meta, commandId, command: 'takeOverHold', bodyDigest: digest({ commandId }), seenVersion: 0 }
      await this.#enter(file, commandId, meta.bodyDigest, async () => {
        const on = file.day
        const written = { meta, recordedAt: this.#parts.clock.now() }
        const isNew = file.isOpen && !on.holds.has(hold.holdId)
        return { on, draft: isNew ? { ...written, events: [takeOverHold(on, hold, meta)] } : undefined }
      })
    }
  }

  async #firstEntry(file: DayFile): Promise<Entry> {
    for await (const entry of this.#parts.ledger.read(`day/${file.dayId}`, 0)) return entry
    throw new UnreadableDay(`day/${file.dayId} has no first entry`)
  }

  /** Closes the stream of a day that says that it is sealed; one that was cut off between the two is closed now. */
  async #closeIfSealed(file: DayFile): Promise<void> {
    if (!file.day.sealed || file.closed) return
    const { sealedVersion: version, sealedHash: hash } = file.seal
    const stream = `day/${file.dayId}`
    const head = await this.#parts.ledger.seal(stream, { stream, version, hash, sealed: false })
    if (!head.sealed) throw new UnreadableDay(`${stream} says that it is sealed at ${version} and goes on to ${head.version}`)
    file.closed = true
  }

  async #followSites(): Promise<void> {
    const { ledger, pause } = this.#parts
    const { signal } = this.#closing
    while (!signal.aborted) {
      try {
        const sites = await ledger.streams('site/')
        for (const file of await this.#openFiles()) this.#receive(file)
        this.#troubles.delete('sites')
        for await (const entry of ledger.follow('site/', new Map(sites.map((head) => [head.stream, head.version])), signal)) {
          const siteId = entry.stream.slice('site/'.length)
          for (const file of await this.#openFiles()) if (file.siteId === siteId) this.#receive(file)
        }
      } catch (error) {
        this.#troubles.set('sites', `Readings of the sites do not arrive: ${sentenceOf(error)}`)
      }
      if (!signal.aborted) await pause(retryAfterMs)
    }
  }

  /** Brings in what the site has for this day, and does not give up: a hold may be among it. */
  #receive(file: DayFile): void {
    void this.#queueOf(file.dayId)
      .add(() => this.#bringIn(file), { urgent: true })
      .then(() => this.#troubles.delete(file.dayId))
      .catch(async (error) => {
        this.#note(file.dayId, error)
        if (error instanceof UnreadableDay) return
        await this.#parts.pause(retryAfterMs)
        if (!this.#closing.signal.aborted) this.#receive(file)
      })
  }

  /** Every open day, those that another process opened included. A day that cannot be read is left out, and said. */
  async #openFiles(): Promise<DayFile[]> {
    const heads = (await this.#parts.ledger.streams('day/')).filter((head) => !head.sealed)
    const files = await Promise.all(
      heads.map(({ stream }) => {
        const dayId = stream.slice('day/'.length) as DayId
        return this.#fileOf(dayId).catch((error) => this.#note(dayId, error))
      }),
    )
    return files.filter((file) => file !== undefined).filter((file) => file.isOpen)
  }

  async #fileOf(dayId: DayId): Promise<DayFile> {
    const known = this.#files.get(dayId)
    if (known) return known
    const file = new DayFile(dayId, this.#parts.ledger, this.#parts.fold)
    const reading = file.readOn().then(() => file)
    this.#files.set(dayId, reading)
    await reading.catch(() => this.#files.delete(dayId))
    return reading
  }

  #queueOf(dayId: DayId): Queue {
    const queue = this.#queues.get(dayId) ?? new Queue()
    this.#queues.set(dayId, queue)
    return queue
  }

  #note(dayId: DayId, error: unknown): undefined {
    this.#troubles.set(dayId, `Day ${dayId}: ${sentenceOf(error)}`)
  }
}

const sentenceOf = (error: unknown) => (error instanceof Error ? error.message : String(error))

/** Parsed on the way in; behind a seal, the first entry carries it. */
function asWritten(draft: Draft, file: DayFile): Draft {
  const isFirstAfter = file.day.sealed !== null && file.day.afterVersion === 0
  const events = isFirstAfter ? [{ type: 'afterOpened', ...file.seal }, ...draft.events] : draft.events
  return { ...draft, events: events.map((event) => DayEvent.parse(event)) }
}

/** What was told and when, by the device; who carried it here, and over which line, is not part of it. */
const digestOf = ({ act, body, envelope: { deviceSequence, occurredAt } }: Command) =>
  hashOfText(canonical({ act, body, deviceSequence, occurredAt }))
