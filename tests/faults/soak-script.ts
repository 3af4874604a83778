import { canonical } from '@musterbook/evidence/canonical'
import type { Entry } from '@musterbook/ledger/ledger'
import { fileFaults } from '@musterbook/ledger/sqlite-check'
import { sqliteReader } from '@musterbook/ledger/sqlite-reader'
import { verify } from '@musterbook/ledger/verify'
import type { DemoStaff } from '@musterbook/office/demo-academy'
import type { ActName } from '@musterbook/vocabulary/act-table'
import type { Envelope } from '@musterbook/vocabulary/envelope'
import { ledgerFile } from '../../ops/paths.ts'
import { everything } from './clients.ts'
import { type Findings, newFindings, note } from './findings.ts'
import { historyFaults, type Told } from './history.ts'

/** One observation of the script, as the device keeps it before it says "saved". */
export interface Observation {
  readonly dayId: string
  readonly act: ActName
  readonly body: object
  readonly envelope: Envelope
}

/** What is known once everything was told. */
export interface Soaked {
  heard: ReadonlyMap<string, Told>
  /** Everything that any device said it had saved. */
  script: readonly Observation[]
  faults: readonly string[]
}

/** Twelve devices, who is signed on there, and what they observe. */
export const crew: readonly { device: string; person: DemoStaff; observes: readonly Kind[] }[] = [
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

/** A day has a few thousand entries: more observations are more days. */
export const observationsOfDay = 2_500

export function bodyOf(act: Kind, id: string, students: readonly { studentId: string }[], random: () => number): object {
  const { studentId } = oneOf(students, random)
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

/** Looks at what stands in the end: everything that was told, and everything that any device said it had saved. */
export async function judge({ script, heard, faults }: Soaked, data: string): Promise<Findings> {
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

export const oneOf = <T>(all: readonly T[], random: () => number): T => all[Math.floor(random() * all.length)]!
