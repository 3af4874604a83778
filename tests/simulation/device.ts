import type { Day } from '@musterbook/day/day'
import { decide } from '@musterbook/day/decide'
import { evolve, type DayEntry } from '@musterbook/day/evolve'
import { observations, type ActName } from '@musterbook/vocabulary/act-table'
import { acts } from '@musterbook/vocabulary/acts'
import type { Answer, Command } from '@musterbook/vocabulary/command'
import type { By, Envelope } from '@musterbook/vocabulary/envelope'
import { Luck } from './luck.ts'
import type { DeviceName } from './plan.ts'
import type { World } from './world.ts'

/** What a screen knows of one command that was pressed on it. */
export interface Pressed {
  readonly command: Command
  state: 'asked' | 'granted' | 'refused'
}

interface Kept {
  readonly pressed: Pressed
  /** The outcome as the device decided it out of contact, folded on its own copy until the ledger has answered. */
  readonly entry: DayEntry | null
  sent: number
}

const safetyFirst: readonly ActName[] = ['stopStudent', 'raiseHold']
/** Judgements that a tablet out of contact never makes. */
const neverAlone: readonly ActName[] = [
  'recordClearance',
  'restore',
  'answerReferral',
  'proposeLift',
  'confirmLift',
  'rule',
  'correct',
  'changeNormGroup',
  'grantRetest',
  'sealDay',
  'reopen',
]

/** One tablet: a clock of its own, a copy of the day, and an outbox that forgets nothing before it is answered. */
export class Device {
  readonly name: DeviceName
  contact: 'in' | 'out' | 'deaf' = 'in'
  /** What the person at it has in hand. */
  inHand: { pressed: Pressed; studentId: string; stationId: string; attemptId: string; official: boolean; readyAt: number } | null = null
  readonly memory: Record<string, number> = {}
  readonly #world: World
  readonly #by: By
  readonly #lagMs: number
  readonly #outbox = new Map<string, Kept>()
  #clockError: number
  #offset = 0
  #band = 0
  #sequence = 0
  #seen = 0
  #heardAt: number
  #copy: { seen: number; kept: number; day: Day } | null = null

  constructor(world: World, name: DeviceName, by: By) {
    const luck = new Luck('device', world.plan.seed, name)
    this.name = name
    this.#world = world
    this.#by = by
    this.#lagMs = luck.between(30, 700)
    this.#heardAt = world.timeline.now
    this.#clockError = luck.is(0.1) ? luck.between(-600_000, 600_000) : luck.between(-3_000, 3_000)
    this.measureClock(luck)
  }

  get by(): By {
    return this.#by
  }

  get isEmpty(): boolean {
    return this.#outbox.size === 0
  }

  /** How many entries of the day, and of what follows it, the screen has been shown. */
  get seen(): number {
    const { timeline, record } = this.#world
    if (this.contact === 'in') {
      this.#heardAt = timeline.now
      while (this.#seen < record.entries.length && record.appendedAt[this.#seen]! <= timeline.now - this.#lagMs) this.#seen++
    }
    return this.#seen
  }

  /** Where the screen stands at least, without looking. */
  get shown(): number {
    return this.#seen
  }

  /** The day as this screen knows it: what it was shown, and on top what it has decided alone. */
  get day(): Day {
    const { seen } = this
    const alone = [...this.#outbox.values()].flatMap(({ entry }) => entry ?? [])
    const shown = this.#world.record.dayAt(seen)
    if (alone.length === 0) return shown
    if (this.#copy?.seen === seen && this.#copy.kept === alone.length) return this.#copy.day
    const day = alone.reduce<Day>((before, entry) => {
      const isAfter = before.sealed !== null
      const version = (isAfter ? before.afterVersion : before.version) + 1
      return evolve(before, { ...entry, stream: `${isAfter ? 'after' : 'day'}/${before.dayId}`, version })
    }, shown)
    this.#copy = { seen, kept: alone.length, day }
    return day
  }

  /** Asks a server for its time. The answer is some way off, mostly within the band that it claims. */
  measureClock(luck: Luck): void {
    this.#band = luck.one(20, 50, 200, 500, 2_000)
    const error = luck.between(-this.#band, this.#band) * (luck.is(0.03) ? 3 : 1)
    this.#offset = this.#clockError + error
  }

  clockJumps(ms: number): void {
    this.#clockError += ms
  }

  loseContact(how: 'out' | 'deaf'): void {
    void this.seen
    this.contact = how
  }

  /** Back in contact: stops and holds go first, the backlog follows one by one. */
  regainContact(luck: Luck): void {
    if (this.contact === 'in') return
    this.contact = 'in'
    if (luck.is(0.7)) this.measureClock(luck)
    const waiting = [...this.#outbox.values()]
    const isUrgent = ({ pressed }: Kept) => safetyFirst.includes(pressed.command.act)
    let pause = 0
    for (const kept of [...waiting.filter(isUrgent), ...waiting.filter((one) => !isUrgent(one))]) {
      this.#world.timeline.after((pause += luck.between(20, 150)), () => this.#send(kept))
    }
  }

  envelope(name: string, agoMs = 0): Envelope {
    const { timeline } = this.#world
    const contactAgeMs = this.contact === 'in' ? new Luck(name, 'heard').between(0, 1_500) : timeline.now - this.#heardAt
    return {
      commandId: name as Envelope['commandId'],
      deviceSequence: ++this.#sequence,
      occurredAt: timeline.now - agoMs + this.#clockError,
      steadyMs: timeline.now - agoMs - this.#world.plan.opensAt + 86_400_000,
      offsetMs: this.#offset,
      bandMs: this.#band,
      seenVersion: this.#world.record.dayAt(this.seen).version,
      contactAgeMs: Math.max(0, contactAgeMs - agoMs),
      decidedOnDevice: false,
    }
  }

  /**
   * Somebody presses a button. In contact it is asked of the day; out of contact this device decides it on its copy, as
   * far as it may, and tells of it later. Undefined: nothing came of it here.
   */
  press(name: string, act: ActName, body: object, { agoMs = 0, by = this.#by }: { agoMs?: number; by?: By } = {}): Pressed | undefined {
    const envelope = this.envelope(`${this.name}.${name}`, agoMs)
    const command = { act, dayId: this.#world.dayId, by, envelope, body } as unknown as Command
    if (!mayAsk(command)) return undefined
    const pressed: Pressed = { command, state: 'asked' }
    if (this.contact !== 'out') {
      this.#keep({ pressed, entry: null, sent: 0 })
      return pressed
    }
    if (neverAlone.includes(act)) return undefined
    const { day } = this
    const recordedAt = envelope.occurredAt - envelope.offsetMs
    const decided = decide(command, day, { recordedAt, siteVersionRead: day.siteVersion, siteHead: day.siteVersion })
    if (decided.refused) return { command, state: 'refused' }
    const alone: Pressed = { command: { ...command, envelope: { ...envelope, decidedOnDevice: true } }, state: 'granted' }
    const meta = { ...envelope, personId: by.personId, deviceId: by.deviceId }
    this.#keep({ pressed: alone, entry: { stream: '', version: 0, recordedAt, meta, events: decided.events }, sent: 0 })
    return alone
  }

  #keep(kept: Kept): void {
    const { commandId } = kept.pressed.command.envelope
    if (this.#outbox.has(commandId)) return
    this.#outbox.set(commandId, kept)
    this.#world.history.invoked(kept.pressed.command)
    this.#send(kept)
  }

  /** False: it was answered meanwhile, or nobody is to be reached. */
  #send(kept: Kept): boolean {
    const { commandId } = kept.pressed.command.envelope
    if (this.contact === 'out' || !this.#outbox.has(commandId)) return false
    const { timeline } = this.#world
    const luck = new Luck(this.#world.plan.seed, commandId, kept.sent++)
    const rates = this.#world.line
    const latency = luck.is(rates.slow) ? luck.between(500, 20_000) : luck.between(5, 120)
    const arrives = (after: number) =>
      timeline.after(after, () => {
        this.#world.tell(kept.pressed.command, luck, (answer) => {
          if (luck.is(rates.lost)) return
          timeline.after(luck.between(5, 120), () => this.#hear(commandId, answer))
        })
      })
    if (!luck.is(rates.lost)) arrives(latency)
    if (luck.is(rates.doubled)) arrives(latency + luck.between(1, 3_000))
    timeline.after(luck.between(3_000, 9_000), () => this.#send(kept))
    return true
  }

  #hear(commandId: string, answer: Answer): void {
    const kept = this.#outbox.get(commandId)
    if (!kept || this.contact !== 'in') return
    this.#outbox.delete(commandId)
    this.#copy = null
    if (!kept.pressed.command.envelope.decidedOnDevice) kept.pressed.state = 'recorded' in answer ? 'granted' : 'refused'
    this.#world.history.acknowledged(kept.pressed.command, answer)
  }
}

/** The gateway lets nobody ask what their role may not; what the core itself refuses is asked all the same, by the impatient. */
function mayAsk({ act, by }: Command): boolean {
  if (act === 'restore' || act === 'proposeLift') return true
  return acts[act].roles.some((role) => by.roles.includes(role)) || (observations as readonly string[]).includes(act)
}
