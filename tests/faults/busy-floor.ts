import type { ActName } from '@musterbook/vocabulary/act-table'
import type { DemoStaff } from '@musterbook/office/demo-academy'
import type { Floor } from '../../ops/demo/floor.ts'
import { DeviceClient, type Heard } from '../../ops/device-client.ts'
import { now } from './clients.ts'
import type { Told } from './history.ts'

/** A view as a screen was given it. */
export interface Shown {
  readonly version: number
  readonly body: unknown
}

const wave = ['101', '102', '103', '104', '105', '106']
const racers = ['107', '108', '109']
/** Longer than the band around two clocks, so that the order of two acts is certain. */
const orderCertainMs = 120
const betweenTapsMs = 20

interface Gun {
  waveId: string
  stationId: string
  official: boolean
  runners: { studentId: string; attemptId: string }[]
}

/** Tablets that work without a break, and what each was told. */
export class BusyFloor {
  /** By command id: what was asked, and what was answered. */
  readonly heard = new Map<string, Told>()
  /** What the safety screen showed, in that order. */
  readonly shown: Shown[] = []
  readonly #floor: Floor
  readonly #working: Promise<void>[] = []
  #stopped = false

  constructor(floor: Floor) {
    this.#floor = floor
  }

  /** Tablets at the line, one that never asks twice, a screen that reads, and a track where holds and starts race each other. */
  async begin(): Promise<void> {
    await this.#floor.reading('Safety', 235)
    await this.#tell('Track 1', 'wren', 'startWave', this.#gun('wave', wave))
    const impatient = await this.#impatientTablet()
    for (const [device, person] of [
      ['Track 2', 'bo'],
      ['Agility', 'mira'],
      ['Reach', 'juno'],
    ] as const)
      this.#work((count) => this.#tell(device, person, 'recordCrossing', this.#crossing(device, count)))
    this.#work((count) => this.#tap(impatient, count))
    this.#work(() => this.#look())
    let round = 0
    this.#work(() => this.#raceHold(++round))
  }

  get acknowledged(): number {
    return [...this.heard.values()].filter((told) => told.acknowledged).length
  }

  /** Everyone finishes what they are at. */
  async stop(): Promise<void> {
    this.#stopped = true
    await Promise.all(this.#working)
  }

  #work(step: (count: number) => Promise<unknown>): void {
    const go = async () => {
      for (let count = 1; !this.#stopped; count++) {
        await step(count)
        await pause(betweenTapsMs)
      }
    }
    const working = go()
    working.catch(() => {}) // Heard when everyone stops.
    this.#working.push(working)
  }

  /** A start, a hold beside another start, and a third start once the hold is in the record; then all of it is cleared away. */
  async #raceHold(round: number): Promise<void> {
    const starts = racers.map((bib) => this.#gun(`${round}-${bib}`, [bib]))
    const holdId = `hold-${round}`
    const out = [await this.#tell('Track 1', 'wren', 'startWave', starts[0]!)]
    const [, beside] = await Promise.all([
      this.#tell('Safety', 'rashid', 'raiseHold', { holdId, kind: 'other', zoneId: 'track' }),
      this.#tell('Track 1', 'wren', 'startWave', starts[1]!),
    ])
    out.push(beside)
    await pause(orderCertainMs)
    out.push(await this.#tell('Track 1', 'wren', 'startWave', starts[2]!))
    await this.#tell('Safety', 'rashid', 'disposeHold', { holdId, disposition: 'finishTheRun' })
    for (const [index, heard] of out.entries()) if (heard.status === 201) await this.#finish(starts[index]!)
    await this.#tell('Safety', 'rashid', 'proposeLift', { holdId, readingId: null, reason: 'The air has cleared.' })
    await this.#tell('Office desk', 'tomas', 'confirmLift', { holdId })
    await pause(orderCertainMs)
  }

  async #finish({ waveId, runners }: Gun): Promise<void> {
    const { studentId } = runners[0]!
    await this.#tell('Track 1', 'wren', 'recordCrossing', { observationId: `end-${waveId}`, waveId, studentId, line: 'finish' })
    await this.#tell('Track 1', 'wren', 'confirmCoolDown', { studentId, lookOver: 'nothingSeen' })
  }

  #gun(waveId: string, bibs: readonly string[]): Gun {
    const runners = bibs.map((bib) => ({ studentId: this.#idOf(bib), attemptId: `${waveId}-${bib}` }))
    return { waveId, stationId: 'run', official: false, runners }
  }

  #crossing(device: string, count: number) {
    const observationId = `line-${device.replace(' ', '-')}-${count}`
    return { observationId, waveId: 'wave', studentId: this.#idOf(wave[count % wave.length]!), line: 'lap' }
  }

  #idOf(bib: string) {
    return this.#floor.notes.students.find((student) => student.bib === bib)!.studentId
  }

  /** Tells until it is answered, and signs on again where a screen has locked or the server has forgotten it. */
  async #tell(device: string, person: DemoStaff, act: ActName, body: object): Promise<Heard> {
    const client = this.#floor.client(device)
    const envelope = client.stamp()
    const asked = this.#asks(envelope.commandId)
    for (;;) {
      const answer = await client.tell(this.#floor.notes.dayId, act, body, { envelope })
      if (this.#hears(asked, answer)) return answer
      if (answer.status !== 401 && answer.status !== 403) throw new Error(`${act} was answered ${JSON.stringify(answer)}`)
      await this.#floor.relieve(device, person)
    }
  }

  /** Asks once, and whatever comes of it, goes on to the next. */
  async #tap(client: DeviceClient, count: number): Promise<void> {
    const envelope = client.stamp()
    const asked = this.#asks(envelope.commandId)
    const told = client.tell(this.#floor.notes.dayId, 'recordCrossing', this.#crossing(client.name, count), { envelope })
    const answer = await told.catch(() => undefined)
    if (!answer) return pause(10 * betweenTapsMs)
    if (this.#hears(asked, answer)) return
    this.heard.delete(asked.commandId) // It was turned away at the door: nobody is signed on.
    const { personId, pin } = this.#floor.notes.staff.bo
    await client.signOn(personId, pin).catch(() => {})
  }

  #asks(commandId: string): Told {
    const asked: Told = { stream: `day/${this.#floor.notes.dayId}`, commandId, askedAt: now() }
    this.heard.set(commandId, asked)
    return asked
  }

  /** Whether the day has answered. */
  #hears(asked: Told, { body }: Heard): boolean {
    const recorded = body['recorded'] as { version: number; events: unknown[] } | undefined
    if (recorded)
      this.heard.set(asked.commandId, { ...asked, acknowledged: { at: now(), version: recorded.version, events: recorded.events } })
    else if (body['refused'])
      this.heard.set(asked.commandId, { ...asked, refused: true, acknowledged: { at: now(), version: body['version'] as number } })
    else return false
    return true
  }

  async #look(): Promise<void> {
    const { body } = await this.#floor.client('Safety').get(`/api/days/${this.#floor.notes.dayId}/views/safety/all`)
    if (typeof body['version'] === 'number') this.shown.push({ version: body['version'], body: body['body'] })
    await pause(10 * betweenTapsMs)
  }

  async #impatientTablet(): Promise<DeviceClient> {
    const name = 'Borrowed tablet'
    const code = await this.#floor.invite(name)
    const client = new DeviceClient(this.#floor.address, name, () => this.#floor.pace.now(), 20, 1)
    await client.enrol(code!)
    const { personId, pin } = this.#floor.notes.staff.bo
    await client.signOn(personId, pin)
    return client
  }
}

function pause(milliseconds: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, milliseconds))
}
