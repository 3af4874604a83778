import { demoFacts, demoRules, dayId, expected } from '@musterbook/day/controls'
import { demoPolicy } from '@musterbook/heat/policies'
import type { Entry, Ledger } from '@musterbook/ledger/ledger'
import { memoryLedger } from '@musterbook/ledger/memory'
import { openTestDay, type RunningTestDay } from '@musterbook/testday/testday'
import type { Answer, Command } from '@musterbook/vocabulary/command'
import type { By } from '@musterbook/vocabulary/envelope'
import type { Weather } from '@musterbook/vocabulary/ports'
import type { TakeReading } from '@musterbook/vocabulary/site'
import { openWeather } from '@musterbook/weather/weather'
import { checkpoint, projectionFaults, type Kept } from './checkpoints.ts'
import { Device } from './device.ts'
import { faultyLedger, startProcess, type Process, type Troubles } from './faulty-ledger.ts'
import { foldOnce } from './fold-once.ts'
import { History } from './history.ts'
import { Luck } from './luck.ts'
import { deviceNames, type DeviceName, type Plan } from './plan.ts'
import type { Broken } from './promises.ts'
import { DayRecord } from './record.ts'
import { rolesOf, staffAt } from './people.ts'
import { Timeline } from './timeline.ts'
import type { RunningWave } from './track.ts'

/** What a planted bug may change of the house around the day. */
export interface Bends {
  readonly ledger?: (ledger: Ledger) => Ledger
  readonly staleRead?: number
}

interface Server {
  readonly process: Process
  testday: RunningTestDay
  weather: Weather
}

const troublesOnTheDay: Troubles = {
  timeoutWithoutEffect: 0.01,
  timeoutWithEffect: 0.01,
  lateEffect: 0.006,
  deliveredTwice: 0.01,
  slow: 0.02,
  staleRead: 0.1,
}
const noTroubles: Troubles = { timeoutWithoutEffect: 0, timeoutWithEffect: 0, lateEffect: 0, deliveredTwice: 0, slow: 0, staleRead: 0 }

/** The academy of one simulated day: the real services over a ledger that fails, fourteen devices, and who looks at it all. */
export class World {
  readonly dayId = dayId
  readonly plan: Plan
  readonly timeline: Timeline
  readonly record: DayRecord
  readonly history: History
  readonly devices: ReadonlyMap<DeviceName, Device>
  readonly broken: Broken[] = []
  readonly waves: RunningWave[] = []
  readonly counts = { crashes: 0, checkpoints: 0 }
  /** Of the line between devices and servers. */
  line = { slow: 0.02, lost: 0.02, doubled: 0.03 }
  readonly #truth: Ledger
  readonly #fold = foldOnce()
  readonly #servers: (Server | null)[] = []
  readonly #kept: Kept = { rows: new Map(), fresh: undefined }
  #troubles: Troubles
  #started = 0
  #isSealSeen = false

  constructor(plan: Plan, bends: Bends = {}) {
    this.plan = plan
    this.#troubles = { ...troublesOnTheDay, staleRead: bends.staleRead ?? troublesOnTheDay.staleRead }
    this.timeline = new Timeline(plan.opensAt - 60_000)
    this.record = new DayRecord(dayId, rolesOf, this.#fold)
    this.history = new History(this.timeline, this.record)
    this.#truth = this.#tapped(bends.ledger?.(memoryLedger()) ?? memoryLedger())
    this.devices = new Map(deviceNames.map((name) => [name, new Device(this, name, staffAt(name))]))
    for (let number = 0; number < (plan.twoServers ? 2 : 1); number++) this.#start(number)
  }

  get isBroken(): boolean {
    return this.broken.length + this.record.broken.length + this.history.broken.length > 0
  }

  get flaws(): Broken[] {
    return [...this.record.broken, ...this.history.broken.map((says) => ({ promise: 'S7', says })), ...this.broken]
  }

  device(name: DeviceName): Device {
    return this.devices.get(name)!
  }

  /** A number from 0 to below 1 that is the same whenever this day asks for it. */
  lasting(name: string): number {
    return new Luck(this.plan.seed, name).next()
  }

  open(): void {
    this.device('office-1').press('open', 'openDay', {
      facts: demoFacts(),
      rules: demoRules({ airHoldFrom: 151, coldHoldAtTenthsDegC: -278 }),
      expected: Array.from({ length: this.plan.students }, (_, index) =>
        expected(`${101 + index} ${index % 3 === 2 ? 'W' : 'M'} ${20 + (index % 19)}`),
      ),
    })
  }

  /** A command reaches the server that the line leads to. Nobody answers where none runs. */
  tell(command: Command, luck: Luck, answered: (answer: Answer) => void): void {
    const server = this.#servers[luck.is(0.2) ? this.#servers.length - 1 : 0]
    if (!server) return
    this.record.told(command)
    server.testday.tell(command).then(
      (answer) => {
        if (!server.process.died.aborted) answered(answer)
      },
      () => {}, // Nobody knows the outcome: the device asks again.
    )
  }

  /** A reading is told to the site until it is received. */
  takeReading(device: Device, name: string, reading: TakeReading, by: By, agoMs: number): void {
    const commandId = `${device.name}.${name}`
    const envelope = device.envelope(commandId, agoMs)
    this.history.invoked({ envelope, dayId }, `site/${reading.siteId}`)
    let isReceived = false
    const again = (times: number): void => {
      if (this.isBroken || isReceived) return
      const server = this.#servers[0]
      if (!server || device.contact === 'out') return this.timeline.after(2_000 + times * 500, () => again(times + 1))
      // Whatever becomes of this one: it is told again until a receipt comes back.
      this.timeline.after(8_000 + times * 500, () => again(times + 1))
      server.weather.take(reading, by, envelope).then(
        (receipt) => {
          if (server.process.died.aborted || isReceived) return
          isReceived = true
          const entry = this.record.made.get(commandId)
          if (entry?.version === receipt.siteVersion) this.history.stored(commandId, entry)
          else this.broken.push({ promise: 'S7', says: `${commandId} was received as ${receipt.siteVersion} and is not there` })
        },
        () => {}, // Not known: it is told again.
      )
    }
    again(0)
  }

  crash(when: 'now' | 'before' | 'after'): void {
    const process = this.#servers[0]?.process
    if (when === 'now') process?.crash()
    else if (process) process.crashAtAppend = when
  }

  /** Every trouble ends, everybody is in contact: what is still kept on a tablet must come into the record now. */
  quiet(): void {
    this.#troubles = noTroubles
    this.line = { slow: 0, lost: 0, doubled: 0 }
    for (const server of this.#servers) if (server) server.process.crashAtAppend = null
    for (const device of this.devices.values()) device.regainContact(new Luck('quiet', device.name))
  }

  async look(why: string): Promise<void> {
    this.counts.checkpoints++
    // Every screen was shown the first so many entries of one list: what the foremost saw, all saw.
    const given = this.record.entries.slice(0, Math.max(...[...this.devices.values()].map((device) => device.seen)))
    const seen = ['day/', 'after/'].map((prefix) => ({
      stream: `${prefix}${dayId}`,
      hashes: given.filter((entry) => entry.stream.startsWith(prefix)).map((entry) => entry.hash),
    }))
    this.broken.push(...(await checkpoint(why, this.#truth, this.record, this.history, seen, this.#kept)))
  }

  async lookAtProjections(): Promise<void> {
    const faults = await projectionFaults(this.#truth, dayId, this.#kept)
    this.broken.push(...faults.map((says) => ({ promise: 'S11', says })))
  }

  async stop(): Promise<void> {
    for (const server of this.#servers) {
      for (const trouble of server?.testday.troubles() ?? []) this.broken.push({ promise: 'S7', says: `at the end of the day: ${trouble}` })
    }
    for (const server of this.#servers) server?.process.crash()
  }

  #start(number: number): void {
    const { timeline } = this
    const { seed } = this.plan
    const name = `${seed} server ${number} start ${this.#started++}`
    const process = startProcess(() => this.#crashed(number))
    const ledger = faultyLedger(this.#truth, process, timeline, () => this.#troubles, name)
    const luck = new Luck(name)
    const clock = { now: () => timeline.now }
    const pause = (ms: number) => timeline.wait(Math.ceil(ms))
    const chance = () => luck.next()
    const weather = openWeather({ ledger, clock, pause, chance, policyOf: async () => demoPolicy })
    const unknown = new Luck(name, 'head')
    const siteHead = (siteId: string) =>
      this.#troubles.slow > 0 && unknown.is(0.01) ? Promise.reject(new Error('no answer')) : weather.headOf(siteId as never)
    const testday = openTestDay({ ledger, clock, rehearsalOnly: false, siteHead, pause, chance, fold: this.#fold })
    this.#servers[number] = { process, testday, weather }
    if (number === 0) void this.#read(ledger, process, name)
  }

  /** A reader that follows the whole day, as the projections do: it starts anew with each server. */
  async #read(ledger: Ledger, process: Process, name: string): Promise<void> {
    const read = async (prefix: string) => {
      for await (const entry of ledger.follow(prefix, new Map(), process.died)) this.history.given(`${name} ${prefix}`, entry)
    }
    await Promise.all([read('day/'), read('after/')])
  }

  #crashed(number: number): void {
    this.#servers[number] = null
    if (this.timeline.now >= this.#over) return
    this.counts.crashes++
    this.timeline.after(0, () => void this.look('crash'))
    this.timeline.after(new Luck(this.plan.seed, 'restart', this.#started).between(500, 20_000), () => this.#start(number))
  }

  #over = Infinity
  /** From here on nothing is started again. */
  end(): void {
    this.#over = this.timeline.now
  }

  #tapped(ledger: Ledger): Ledger {
    const read = (stream: string, afterVersion: number) => ledger.read(stream, afterVersion)
    return {
      read,
      head: (stream) => ledger.head(stream),
      streams: (prefix) => ledger.streams(prefix),
      find: (stream, commandId) => ledger.find(stream, commandId),
      follow: (prefix, seen, signal) => ledger.follow(prefix, seen, signal),
      close: () => ledger.close(),
      append: async (stream, expectedVersion, draft) => {
        const answer = await ledger.append(stream, expectedVersion, draft)
        if ('appended' in answer && !answer.toldTwice) this.#appended(answer.appended)
        return answer
      },
      seal: async (stream, at) => {
        const head = await ledger.seal(stream, at)
        if (head.sealed && !this.#isSealSeen) this.timeline.after(0, () => void this.look('seal'))
        this.#isSealSeen ||= head.sealed
        return head
      },
    }
  }

  #appended(entry: Entry): void {
    if (this.isBroken) return
    this.record.appended(entry, this.timeline.now)
    if (this.record.entries.length % 64 === 0) this.record.forget(Math.min(...[...this.devices.values()].map((device) => device.shown)))
  }
}
