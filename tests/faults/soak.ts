import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { HouseClock } from '../../ops/clock.ts'
import type { Floor } from '../../ops/demo/floor.ts'
import { started, type Spawned } from '../cluster/processes.ts'
import { openDay } from '../cluster/short-day.ts'
import { academyIn, floorOf, placesIn } from '../cluster/site.ts'
import { now } from './clients.ts'
import type { Findings } from './findings.ts'
import type { Told } from './history.ts'
import { freePort, until } from './nats-cluster.ts'
import { type Cut, Lines, Outbox, WrongClock } from './soak-device.ts'
import { bodyOf, crew, judge, type Observation, observationsOfDay, oneOf } from './soak-script.ts'

const clock: HouseClock = { now: () => Date.now(), speed: 1, rehearsalOnly: false }
const observationsBetweenKills = 250
const minute = 60_000

interface Counted {
  sent: number
  cut: number
  doubles: number
  devicesEnded: number
  jumps: number
}

/**
 * So many scripted observations from twelve devices against a real server, whose lines are cut at any moment, whose devices end and start again from
 * what they kept, send twice, out of order and by wrong clocks, while the server itself is ended without warning. At the end all are there, none twice,
 * none altered.
 */
export async function soak(observations: number, random: () => number, progress: (count: number) => void): Promise<Findings> {
  const folder = mkdtempSync(join(tmpdir(), 'soak-'))
  const { data, keyFile } = placesIn(folder)
  const port = await freePort()
  let server: Spawned | undefined
  const start = async () => {
    server = started(['--port', String(port), '--no-screens', '--data', data, '--key', keyFile])
    await server.says(/stands at (\S+)/, 60_000)
  }
  try {
    const { academy } = await academyIn({ folder, clock }, async () => null)
    await start()
    const address = `http://127.0.0.1:${port}`
    const dayIds: string[] = []
    for (let day = 0; day * observationsOfDay < observations; day++)
      dayIds.push(await openDay(address, academy, clock.now, `2027-05-${String(11 + day)}`))
    const floor = await floorOf({ ...academy, dayId: dayIds[0]! }, address)
    const run: Run = {
      floor,
      dayIds,
      folder,
      random,
      heard: new Map(),
      script: [],
      faults: [],
      counted: { sent: 0, cut: 0, doubles: 0, devicesEnded: 0, jumps: 0 },
    }

    const share = Math.ceil(observations / crew.length)
    let left = observations
    const working = crew.map((_, index) => {
      const own = Math.min(share, left)
      left -= own
      return new SoakDevice(run, index).work(own)
    })
    const done = Promise.all(working)
    done.catch(() => {}) // Heard below, unless something else fails first.
    const inTheRecord = () => [...run.heard.values()].filter(({ acknowledged }) => acknowledged).length
    let kills = 0
    for (let next = observationsBetweenKills; next < observations; next += observationsBetweenKills) {
      await Promise.race([
        done,
        until(
          () => inTheRecord() >= next,
          300_000,
          () => `only ${inTheRecord()} of ${observations} observations are in the record`,
        ),
      ])
      progress(inTheRecord())
      await server!.kill()
      kills++
      await start()
    }
    await done
    progress(inTheRecord())
    await server!.stop()
    return { ...(await judge(run, data)), also: sayCounted(run.counted, kills) }
  } finally {
    await server?.kill()
    rmSync(folder, { recursive: true, force: true })
  }
}

interface Run {
  floor: Floor
  dayIds: readonly string[]
  folder: string
  random: () => number
  heard: Map<string, Told>
  /** Everything that any device said it had saved. */
  script: Observation[]
  faults: string[]
  counted: Counted
}

class SoakDevice {
  readonly #run: Run
  readonly #crew: (typeof crew)[number]
  readonly #file: string
  readonly #clock: WrongClock
  #outbox: Outbox
  #lines = new Lines()
  #made = 0

  constructor(run: Run, index: number) {
    this.#run = run
    this.#crew = crew[index]!
    this.#file = join(run.folder, `outbox-${index}.jsonl`)
    this.#clock = new WrongClock(Math.floor((run.random() - 0.5) * 20 * minute))
    this.#outbox = new Outbox(this.#file)
  }

  /** Observes so much, and sends until nothing is unsent. */
  async work(observations: number): Promise<void> {
    const { random, counted } = this.#run
    while (this.#made < observations || this.#outbox.unsent.length > 0) {
      // Out of contact for a while now and then: a backlog, sent afterwards in any order.
      const backlog = random() < 0.05 ? 15 : 1 + Math.floor(random() * 3)
      for (let count = 0; count < backlog && this.#made < observations; count++) this.#observe(backlog > 3)
      if (random() < 0.01) {
        this.#clock.jump(Math.floor((random() - 0.5) * 120 * minute))
        counted.jumps++
      }
      const sending = Promise.all(this.#anyOrder(3).map((observation) => this.#send(observation)))
      if (random() < 0.02) await this.#endAndStart(sending)
      await sending
    }
  }

  #observe(outOfContact: boolean): void {
    const { random, dayIds, script } = this.#run
    const number = ++this.#made
    const act = oneOf(this.#crew.observes, random)
    const name = this.#crew.device.replaceAll(' ', '-')
    const envelope = this.#clock.stamp(name, this.#outbox.nextSequence, outOfContact ? 5_000 : 0)
    const observation: Observation = {
      dayId: oneOf(dayIds, random),
      act,
      body: bodyOf(act, `${name}-${number}`, this.#run.floor.notes.students, random),
      envelope,
    }
    this.#outbox.keep(observation)
    script.push(observation)
  }

  #anyOrder(atOnce: number): Observation[] {
    const unsent = [...this.#outbox.unsent]
    return Array.from(
      { length: Math.min(atOnce, unsent.length) },
      () => unsent.splice(Math.floor(this.#run.random() * unsent.length), 1)[0]!,
    )
  }

  async #send(observation: Observation): Promise<void> {
    const { random, counted } = this.#run
    const { commandId } = observation.envelope
    const stream = `day/${observation.dayId}`
    if (!this.#run.heard.has(commandId)) this.#run.heard.set(commandId, { stream, commandId, askedAt: now() })
    const twice = random() < 0.08
    const cuts = [this.#cut(), ...(twice ? [this.#cut()] : [])]
    counted.sent += cuts.length
    counted.doubles += twice ? 1 : 0
    counted.cut += cuts.filter((cut) => cut !== 'never').length
    await Promise.all(cuts.map((cut) => this.#sendOnce(observation, cut)))
  }

  async #sendOnce(observation: Observation, cut: Cut): Promise<void> {
    const { floor, heard, faults } = this.#run
    const outbox = this.#outbox
    const cookie = floor.client(this.#crew.device).cookieHeader()
    const answer = await this.#lines.send(observation, { address: floor.address, cookie }, cut)
    if (outbox !== this.#outbox) return // The device has ended meanwhile; what it heard, it has forgotten.
    if (!answer || answer.status >= 500) return void (await new Promise((resolve) => setTimeout(resolve, cut === 'never' ? 100 : 0)))
    if (answer.status === 401 || answer.status === 403) return floor.relieve(this.#crew.device, this.#crew.person).catch(() => {})
    const { commandId } = observation.envelope
    const recorded = answer.body['recorded'] as { version: number; events: unknown[] } | undefined
    if (!recorded) throw new Error(`${observation.act} of ${commandId} was answered ${answer.status} ${JSON.stringify(answer.body)}`)
    const told = heard.get(commandId)!
    const before = told.acknowledged
    if (before && before.version !== recorded.version) faults.push(`${commandId} was told twice: ${before.version} and ${recorded.version}`)
    if (!before) heard.set(commandId, { ...told, acknowledged: { at: now(), version: recorded.version, events: recorded.events } })
    outbox.isInTheRecord(commandId)
  }

  #cut(): Cut {
    const { random } = this.#run
    if (random() > 0.2) return 'never'
    return oneOf(['beforeSending', 'halfway', 'afterSending', 'afterSending', 'asAnswered'] as const, random)
  }

  /** The device ends in the middle of what it does: its lines break, and it knows afterwards what it had kept, and no more. */
  async #endAndStart(sending: Promise<unknown>): Promise<void> {
    this.#run.counted.devicesEnded++
    await new Promise((resolve) => setTimeout(resolve, this.#run.random() * 20))
    this.#outbox = new Outbox(this.#file)
    this.#lines.cutAll()
    this.#lines = new Lines()
    await sending
  }
}

const sayCounted = ({ sent, cut, doubles, devicesEnded, jumps }: Counted, kills: number): string =>
  `${sent} sends, ${cut} lines cut, ${doubles} sent twice at once, ${devicesEnded} devices ended, ${jumps} clock jumps, ${kills} server kills`
