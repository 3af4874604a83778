import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { canonical } from '@musterbook/evidence/canonical'
import type { Entry } from '@musterbook/ledger/ledger'
import { fileFaults } from '@musterbook/ledger/sqlite-check'
import { sqliteReader } from '@musterbook/ledger/sqlite-reader'
import { verify } from '@musterbook/ledger/verify'
import type { DemoStaff } from '@musterbook/office/demo-academy'
import type { ActName } from '@musterbook/vocabulary/act-table'
import type { HouseClock } from '../../ops/clock.ts'
import type { Floor } from '../../ops/demo/floor.ts'
import { ledgerFile } from '../../ops/paths.ts'
import { started, type Spawned } from '../cluster/processes.ts'
import { openDay } from '../cluster/short-day.ts'
import { academyIn, floorOf, placesIn } from '../cluster/site.ts'
import { everything, now } from './clients.ts'
import { type Findings, newFindings, note } from './findings.ts'
import { historyFaults, type Told } from './history.ts'
import { freePort, until } from './nats-cluster.ts'
import { type Cut, Lines, type Observation, Outbox, WrongClock } from './soak-device.ts'

/** Twelve devices, who is signed on there, and what they observe. */
const crew: readonly { device: string; person: DemoStaff; observes: readonly Kind[] }[] = [
  { device: 'Greeter', person: 'sanne', observes: ['answerPrompt'] },
  { device: 'Medical 1', person: 'petra', observes: ['weigh', 'answerPrompt'] },
  { device: 'Medical 2', person: 'dai', observes: ['weigh', 'answerPrompt'] },
  { device: 'Scale and skinfolds', person: 'juno', observes: ['weigh', 'recordResult'] },
  { device: 'Agility', person: 'mira', observes: ['recordResult', 'answerPrompt'] },
  { device: 'Reach', person: 'juno', observes: ['recordResult'] },
  { device: 'Bench 1', person: 'colm', observes: ['recordResult', 'answerPrompt'] },
  { device: 'Bench 2', person: 'colm', observes: ['recordResult', 'weigh'] },
  { device: 'Track 1', person: 'wren', observes: ['recordCrossing', 'answerPrompt'] },
  { device: 'Track 2', person: 'bo', observes: ['recordCrossing'] },
  { device: 'Safety', person: 'rashid', observes: ['answerPrompt', 'observeHazard'] },
  { device: 'Office desk', person: 'tomas', observes: ['recordResult', 'answerPrompt'] },
]
type Kind = keyof typeof eventOf & ActName
/** The event that keeps the observation's own words. */
const eventOf = {
  answerPrompt: 'promptAnswered',
  weigh: 'weighed',
  recordResult: 'resultRecorded',
  recordCrossing: 'crossingRecorded',
  observeHazard: 'hazardObserved',
} as const

const clock: HouseClock = { now: () => Date.now(), speed: 1, rehearsalOnly: false }
/** A day has a few thousand entries: more observations are more days. */
const observationsOfDay = 2_500
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
    const observation: Observation = { dayId: oneOf(dayIds, random), act, body: this.#bodyOf(act, `${name}-${number}`), envelope }
    this.#outbox.keep(observation)
    script.push(observation)
  }

  #bodyOf(act: Kind, id: string): object {
    const { random, floor } = this.#run
    const { studentId } = oneOf(floor.notes.students, random)
    const any = (below: number) => Math.floor(random() * below)
    const bodies: Record<Kind, object> = {
      answerPrompt: {
        prompt: 'unusualValue',
        studentId,
        attemptId: null,
        shown: `Outside the usual range: ${any(1e6)}`,
        answer: 'keep',
        reason: null,
      },
      weigh: {
        studentId,
        mass: { amount: 40_000 + any(60_000), unit: 'grams', resolution: 50, method: 'scale' },
        scaleId: 'S-1',
        keptUnusual: false,
      },
      recordResult: {
        observationId: id,
        attemptId: `try-${id}`,
        studentId,
        stationId: oneOf(['agility', 'reach', 'bench'], random),
        outcome: 'good',
        value: { amount: 1_000 + any(1_000_000), unit: 'hundredthsOfSecond', resolution: 1, method: 'hand' },
        folds: [],
        fault: null,
        equipmentIds: [],
        keptUnusual: false,
        official: true,
        photoDigest: null,
        fromPaper: null,
      },
      recordCrossing: { observationId: id, waveId: `wave-${any(20)}`, studentId, line: random() < 0.9 ? 'lap' : 'finish' },
      observeHazard: { kind: 'airIndex', zoneId: 'track', value: any(300) },
    }
    return bodies[act]
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

async function judge({ script, heard, faults }: Run, data: string): Promise<Findings> {
  const findings = newFindings()
  const reader = sqliteReader({ file: ledgerFile(data) })
  const told = [...heard.values()]
  const days = new Set(told.map(({ stream }) => stream))
  const streams = new Map([...(await everything(reader))].filter(([stream]) => days.has(stream)))
  const opening = [...streams].flatMap(([stream, [first]]): Told[] =>
    first ? [{ stream, commandId: first.meta.commandId, askedAt: 0 }] : [],
  )
  findings.faults.push(
    ...faults,
    ...fileFaults(ledgerFile(data)),
    ...(await verify(reader)).faults,
    ...historyFaults([...opening, ...told], streams),
    ...scriptFaults(script, streams),
  )
  await reader.close()
  note(findings, { rounds: script.length, told, streams })
  return findings
}

/** Every observation of the script stands once in its day, in the device's own words. */
export function scriptFaults(script: readonly Observation[], streams: ReadonlyMap<string, readonly Entry[]>): string[] {
  const entries = new Map<string, Entry[]>()
  for (const entry of [...streams.values()].flat()) entries.set(entry.meta.commandId, [...(entries.get(entry.meta.commandId) ?? []), entry])
  return script.flatMap((observation) => {
    const { commandId } = observation.envelope
    const found = entries.get(commandId) ?? []
    const [entry] = found
    if (found.length !== 1 || entry?.stream !== `day/${observation.dayId}`) return [`${commandId} stands ${found.length} times`]
    return isUnaltered(observation, entry) ? [] : [`${commandId} is there altered`]
  })
}

/** Which try it tells of is the day's own judgement: two tablets that time one try give two observations of one. */
const judged = 'attemptId'

function isUnaltered({ act, body, envelope }: Observation, { meta, events }: Entry): boolean {
  const kept = events.find(({ type }) => type === eventOf[act as Kind])
  const times = ['deviceSequence', 'occurredAt', 'steadyMs', 'offsetMs', 'bandMs'] as const
  return (
    kept !== undefined &&
    Object.entries(body).every(([name, value]) => name === judged || canonical(kept[name] ?? null) === canonical(value)) &&
    times.every((name) => meta[name] === envelope[name])
  )
}

const sayCounted = ({ sent, cut, doubles, devicesEnded, jumps }: Counted, kills: number): string =>
  `${sent} sends, ${cut} lines cut, ${doubles} sent twice at once, ${devicesEnded} devices ended, ${jumps} clock jumps, ${kills} server kills`

const oneOf = <T>(all: readonly T[], random: () => number): T => all[Math.floor(random() * all.length)]!
