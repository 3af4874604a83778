import { predictedCrossingMs, type LapQuestion } from '@musterbook/stations/laps'
import { nextLoad, type NextLoad } from '@musterbook/stations/next-load'
import type { Protocol } from '@musterbook/stations/protocol'
import { circuit, sitesOf, type FoldReading } from '@musterbook/stations/skinfold'
import { inSmallest, each, type ReadingUnit } from '@musterbook/stations/units'
import { happenedAt } from '@musterbook/vocabulary/envelope'
import type { DayEventOf } from '@musterbook/vocabulary/events'
import type { StationId } from '@musterbook/vocabulary/ids'
import type { Measured } from '@musterbook/vocabulary/measured'
import type { PinnedStation } from '@musterbook/vocabulary/rules'
import { restOverAt, triesAllowed, triesUsed } from '../attempt/may-start.ts'
import { seenInOtherZones } from '../attempt/two-places.ts'
import { shape, stationOf, zoneOf, covers, type Attempt, type Day, type Student, type Wave } from '../day.ts'
import { keptForStudent } from '../kept-for-student.ts'
import { gatesOf, isReady, type Gate } from '../gates.ts'
import { isMass, isReadable } from '../readable.ts'
import { resultOf, witnessed, type StationResult } from '../results.ts'
import { lapsOf } from '../run/crossings.ts'
import { readingOf, runProtocol, standingFinish } from '../run/laps.ts'
import { attemptView, holdStrip, holdsInForce, newestStrip, type AttemptView, type HoldStrip, type ReadingStrip } from './parts.ts'

/** What the staff of one station see. */
export interface StationView {
  dayId: string
  stationId: string
  zoneId: string
  zone: string
  protocol: Protocol
  staff: { personId: string; accepted: boolean }[]
  blockedEquipment: string[]
  equipmentIds: string[]
  hold: HoldStrip | null
  reading: ReadingStrip | null
  /** Everyone who is here today and may still come: waiting first, in the order they joined. */
  students: StationStudent[]
  waves: WaveView[]
}

export interface StationStudent {
  studentId: string
  bib: string | null
  classId: string
  place: 'waiting' | 'called' | 'underWay' | 'done' | 'elsewhere'
  waitingSince: number | null
  calledSince: number | null
  gates: Gate[]
  ready: boolean
  triesUsed: number
  tries: number
  restOverAt: number | null
  briefed: boolean
  attempts: AttemptView[]
  /** Without its working: the record says that. */
  result: Omit<StationResult, 'working'>
  /** Two readings of one try that differ and wait for an acknowledgement. */
  differs: string | null
  nextLoad: NextLoad | null
  /** Skinfold: the site to read next, by the readings of the attempt under way. */
  sites: readonly string[] | null
  observerNeeded: boolean
  /** Last seen in another zone, and until when a start here asks whether the bib is right. Left out where it was not, or where the site's rules ask nothing. */
  elsewhere?: { station: string; at: number; askUntil: number }
}

export interface WaveView {
  waveId: string
  gunAt: number
  /** ± of the gun, ms. */
  gunBandMs: number
  /** The tablet that carries it: the gun's, until another takes it over. */
  carriedBy: { deviceId: string; personId: string | null; since: number; takenOver: boolean }
  official: boolean
  underHold: string | null
  open: boolean
  runners: RunnerView[]
}

export interface RunnerView {
  studentId: string
  bib: string | null
  attemptId: string
  status: 'running' | 'held' | 'finished' | 'withheld' | 'interrupted' | 'stopped'
  laps: number
  lapsToGo: number
  crossings: {
    observationId: string
    elapsedMs: number
    inferred: boolean
    ignored: DayEventOf<'crossingRecorded'>['ignored'] | 'takenBack'
  }[]
  finishMs: number | null
  predictedMs: number | null
  questions: readonly LapQuestion[]
}

export function stationView(day: Day, key: string): StationView | null {
  const station = stationOf(day, key as StationId)
  if (!station) return null
  const hold = holdsInForce(day).find((one) => covers(day, one, station))
  return {
    dayId: day.dayId,
    stationId: station.stationId,
    zoneId: station.zoneId,
    zone: zoneOf(day, station.zoneId)?.name ?? station.zoneId,
    protocol: station.protocol as unknown as Protocol,
    staff: [...(day.staff.get(station.stationId) ?? [])],
    blockedEquipment: station.equipmentIds.filter((equipmentId) => day.equipment.get(equipmentId)?.blocked),
    equipmentIds: station.equipmentIds,
    hold: hold ? holdStrip(day, hold) : null,
    reading: newestStrip(day),
    students: inOrder(
      [...day.students.values()].filter((student) => isHere(student)).map((student) => studentAt(day, student, station.stationId)),
    ),
    waves: [...day.waves.values()].filter((wave) => wave.stationId === station.stationId).map((wave) => waveView(day, wave)),
  }
}

const isHere = (student: Student): boolean => ['present', 'complete'].includes(shape(student).presence)

const looksAt = ['opened', 'sealed', 'reviews', 'holds', 'readings', 'equipment'] as const

const studentAt = keptForStudent(looksAt, (day: Day, student, stationId): StationStudent => {
  const station = stationOf(day, stationId as StationId)!
  const protocol = station.protocol as unknown as Protocol
  const attempts = student.attempts.filter((attempt) => attempt.stationId === station.stationId)
  const waiting = student.queue.find((place) => place.stationId === station.stationId)
  const calledHere = student.calledTo?.stationId === station.stationId ? student.calledTo : null
  const gates = gatesOf(day, student, station)
  const underWay = attempts.find((attempt) => attempt.status === 'underWay')
  const differs = attempts.find(
    (attempt) => !attempt.differenceAcknowledged && witnessed(attempt, day, protocol).state === 'readingsDiffer',
  )
  const used = triesUsed(student, station)
  const tries = triesAllowed(student, station)
  return {
    studentId: student.studentId,
    bib: student.bib,
    classId: student.classId,
    place: underWay
      ? 'underWay'
      : calledHere
        ? 'called'
        : waiting
          ? 'waiting'
          : used >= tries || shape(student).presence === 'complete'
            ? 'done'
            : 'elsewhere',
    waitingSince: waiting?.since ?? null,
    calledSince: calledHere?.since ?? null,
    gates,
    ready: isReady(gates),
    triesUsed: used,
    tries,
    restOverAt: restOverAt(student, station),
    briefed: student.briefed.includes(station.stationId),
    attempts: attempts.map((attempt) => attemptView(day, student, attempt)),
    result: withoutWorking(resultOf(day, student, station)),
    differs: differs?.attemptId ?? null,
    nextLoad: protocol.kind === 'loaded' ? loadAfter(student, protocol, attempts) : null,
    sites: protocol.kind === 'skinfold' ? sitesOf(protocol.details.equation, student.normGroup.sex) : null,
    observerNeeded: student.clearance.limits.some((limit) => limit.kind === 'withObserver'),
    ...elsewhere(day, student, station),
  }
})

function elsewhere(day: Day, student: Student, { stationId }: PinnedStation): Pick<StationStudent, 'elsewhere'> {
  const within = day.opened?.rules.twoPlacesWithinMs
  const [last] = within === undefined ? [] : seenInOtherZones(day, student, stationId).sort((one, other) => other.at - one.at)
  if (!last || within === undefined) return {}
  return { elsewhere: { station: stationOf(day, last.stationId)!.protocol.name, at: last.at, askUntil: last.at + within } }
}

function withoutWorking({ working: _, ...result }: StationResult): Omit<StationResult, 'working'> {
  return result
}

function loadAfter(student: Student, protocol: Extract<Protocol, { kind: 'loaded' }>, attempts: Student['attempts']): NextLoad {
  const unit = protocol.unit as ReadingUnit
  // What was moved to somebody else, undone or spoilt through nobody's fault says nothing about this student's next load.
  const efforts = attempts.flatMap((attempt) => {
    const outcome = attempt.observations[0]?.event.outcome
    if (!attempt.load || !outcome || outcome === 'noFaultRerun' || attempt.status !== 'recorded' || !isReadable(attempt.load, protocol))
      return []
    const isGood = outcome === 'good' || attempt.corrections.some(({ change }) => change.kind === 'value')
    return [{ load: inUnit(attempt.load, unit), reps: 1, isGood }]
  })
  const mass = student.weighIns.findLast((one) => isMass(one.mass))?.mass
  return nextLoad(efforts, protocol.details, student.normGroup.sex, mass ? inUnit(mass, unit) : null)
}

const inUnit = ({ amount, unit }: Measured, as: ReadingUnit): number => Math.floor(inSmallest(amount, unit as ReadingUnit) / each(as))

/** What the next reading of a fold is, given those read so far: for the screen that reads them. */
export function nextFold(protocol: Protocol, sex: 'M' | 'W', folds: readonly { site: string; halfMillimetres: number }[]) {
  if (protocol.kind !== 'skinfold') return null
  return circuit(
    sitesOf(protocol.details.equation, sex),
    protocol.details.repeatRule,
    folds.map((fold, index) => ({ observationId: String(index), ...fold }) as FoldReading),
  )
}

const rank = { underWay: 0, called: 1, waiting: 2, elsewhere: 3, done: 4 } as const

/** Under way, called, then the ready who have waited longest; of those who may not start yet, longest waiting too. */
const inOrder = (students: StationStudent[]): StationStudent[] =>
  students.sort(
    (one, other) =>
      rank[one.place] - rank[other.place] ||
      Number(other.ready) - Number(one.ready) ||
      (one.waitingSince ?? 0) - (other.waitingSince ?? 0) ||
      compare(one.bib ?? one.studentId, other.bib ?? other.studentId),
  )

const compare = (one: string, other: string): number => (one < other ? -1 : one > other ? 1 : 0)

function waveView(day: Day, wave: Wave): WaveView {
  const protocol = runProtocol(day, wave)
  const runners = wave.studentIds.flatMap((studentId): RunnerView[] => {
    const student = day.students.get(studentId)
    const attempt = student?.attempts.find((one) => one.waveId === wave.waveId)
    // Called back after a false start: they run in another wave.
    if (!student || !attempt || !protocol || attempt.status === 'released') return []
    const reading = readingOf(attempt, protocol)
    const held = holdsInForce(day).some((hold) => covers(day, hold, stationOf(day, wave.stationId) as PinnedStation))
    const laps = lapsOf(attempt).length
    const answered = day.prompts.filter(
      (prompt) => prompt.event.attemptId === attempt.attemptId && prompt.event.prompt === 'possibleMissedCrossing',
    ).length
    const questions = reading.questions.filter((question) => question.kind !== 'possibleMissedCrossing' || answered === 0)
    return [
      {
        studentId,
        bib: student.bib,
        attemptId: attempt.attemptId,
        status: statusOf(attempt, held, protocol.details.track.laps),
        laps,
        lapsToGo: Math.max(0, protocol.details.track.laps - laps),
        crossings: attempt.taps.map(({ observationId, elapsedMs, inferred, ignored }) => ({ observationId, elapsedMs, inferred, ignored })),
        finishMs: standingFinish(attempt)?.elapsedMs ?? null,
        predictedMs: isOut(attempt) ? predictedCrossingMs(reading, 130_000) : null,
        questions,
      },
    ]
  })
  return {
    waveId: wave.waveId,
    gunAt: happenedAt(wave.gun),
    gunBandMs: wave.gun.bandMs,
    carriedBy: carrierOf(wave),
    official: wave.official,
    underHold: wave.underHold,
    open: runners.some((runner) => runner.status === 'running' || runner.status === 'held'),
    runners,
  }
}

function carrierOf({ gun, takenOver }: Wave): WaveView['carriedBy'] {
  const told = takenOver ?? gun
  return { deviceId: told.deviceId, personId: told.personId, since: happenedAt(told), takenOver: takenOver !== null }
}

/** Under way; ended by a touch that was taken back, too. */
const isOut = (attempt: Attempt): boolean =>
  attempt.status === 'underWay' || (attempt.status === 'recorded' && attempt.finish !== null && standingFinish(attempt) === null)

function statusOf(attempt: Attempt, held: boolean, laps: number): RunnerView['status'] {
  if (attempt.status === 'interrupted') return attempt.interruptedBy?.by === 'hold' ? 'interrupted' : 'stopped'
  if (isOut(attempt)) return held ? 'held' : 'running'
  if (attempt.finish) return attempt.finish.laps < laps ? 'withheld' : 'finished'
  return 'finished'
}
