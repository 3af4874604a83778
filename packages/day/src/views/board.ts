import { attemptUnderWay, holdOver, openReviews, shape, stationOf, zoneOf, type Day, type Student } from '../day.ts'
import type { StationId } from '@musterbook/vocabulary/ids'
import { resultOf } from '../results.ts'
import { holdStrip, holdsInForce, newestStrip, type HoldStrip, type ReadingStrip } from './parts.ts'

/** The whole day at a glance, for staff. */
export interface BoardView {
  dayId: string
  students: BoardStudent[]
  queues: BoardQueue[]
  holds: HoldStrip[]
  reading: ReadingStrip | null
  stopped: { studentId: string; bib: string | null; since: number; zone: string | null }[]
  openReviews: number
}
export interface BoardStudent {
  studentId: string
  bib: string | null
  classId: string
  presence: string
  late: boolean
  clearance: Student['clearance']['status']
  warmUp: 'due' | 'done'
  coolDown: 'notDue' | 'due' | 'done'
  stopped: boolean
  signedOff: boolean
  at: { stationId: string; doing: 'underWay' | 'called' } | null
  stations: {
    stationId: string
    state: 'due' | 'waiting' | 'called' | 'underWay' | 'tried' | 'done'
    says: string | null
    placing: string | null
    result: string
  }[]
}
export interface BoardQueue {
  stationId: string
  name: string
  zone: string
  waiting: { studentId: string; bib: string | null; since: number }[]
  called: { studentId: string; bib: string | null; since: number }[]
  underWay: { studentId: string; bib: string | null }[]
  staff: string[]
}

/** For everybody who walks past: bibs only, no results, no health. */
export interface PublicView {
  title: string
  rehearsal: boolean
  queues: { name: string; zone: string; held: boolean; called: string[]; underWay: string[]; waiting: string[] }[]
  holds: { zone: string; zoneId: string | null; since: number; kind: string }[]
}

export function boardView(day: Day): BoardView {
  const students = [...day.students.values()]
  return {
    dayId: day.dayId,
    students: students.map((student) => boardStudent(day, student)),
    queues: queues(day),
    holds: holdsInForce(day).map((hold) => holdStrip(day, hold)),
    reading: newestStrip(day),
    stopped: students.flatMap((student) =>
      student.stop
        ? [
            {
              studentId: student.studentId,
              bib: student.bib,
              since: student.stop.since,
              zone: student.stop.zoneId ? (zoneOf(day, student.stop.zoneId)?.name ?? null) : null,
            },
          ]
        : [],
    ),
    openReviews: openReviews(day).length,
  }
}

function boardStudent(day: Day, student: Student): BoardStudent {
  const state = shape(student)
  const underWay = attemptUnderWay(student)
  return {
    studentId: student.studentId,
    bib: student.bib,
    classId: student.classId,
    presence: state.presence,
    late: student.late,
    clearance: student.clearance.status,
    warmUp: state.warmUp,
    coolDown: state.coolDown,
    stopped: student.stop !== null,
    signedOff: student.signedOffAt !== null,
    at: underWay
      ? { stationId: underWay.stationId, doing: 'underWay' }
      : student.calledTo
        ? { stationId: student.calledTo.stationId, doing: 'called' }
        : null,
    stations: (day.opened?.rules.stations ?? []).map((station) => {
      const result = resultOf(day, student, station)
      const doing =
        underWay?.stationId === station.stationId
          ? 'underWay'
          : student.calledTo?.stationId === station.stationId
            ? 'called'
            : student.queue.some((place) => place.stationId === station.stationId)
              ? 'waiting'
              : result.amount !== null
                ? 'done'
                : state.stations[station.stationId] === 'tried'
                  ? 'tried'
                  : 'due'
      return { stationId: station.stationId, state: doing, says: result.says, placing: result.placing, result: result.state }
    }),
  }
}

function queues(day: Day): BoardQueue[] {
  const students = [...day.students.values()]
  return (day.opened?.rules.stations ?? []).map(({ stationId, zoneId, protocol }) => ({
    stationId,
    name: protocol.name,
    zone: zoneOf(day, zoneId)?.name ?? zoneId,
    waiting: students
      .flatMap((student) =>
        student.queue
          .filter((place) => place.stationId === stationId && student.calledTo?.stationId !== stationId)
          .map((place) => ({ studentId: student.studentId, bib: student.bib, since: place.since })),
      )
      .sort((one, other) => one.since - other.since),
    called: students.flatMap((student) =>
      student.calledTo?.stationId === stationId ? [{ studentId: student.studentId, bib: student.bib, since: student.calledTo.since }] : [],
    ),
    underWay: students
      .filter((student) => attemptUnderWay(student)?.stationId === stationId)
      .map(({ studentId, bib }) => ({ studentId, bib })),
    staff: (day.staff.get(stationId) ?? []).map((one) => one.personId),
  }))
}

export function publicView(day: Day): PublicView {
  const bibs = (places: { bib: string | null }[]): string[] => places.flatMap((place) => place.bib ?? [])
  return {
    title: day.opened?.facts.title ?? '',
    rehearsal: day.opened?.facts.rehearsal ?? false,
    queues: queues(day).map((queue) => ({
      name: queue.name,
      zone: queue.zone,
      held: holdOver(day, stationOf(day, queue.stationId as StationId)!) !== undefined,
      called: bibs(queue.called),
      underWay: bibs(queue.underWay),
      waiting: bibs(queue.waiting),
    })),
    holds: holdsInForce(day).map((hold) => {
      const { zone, zoneId, since, kind } = holdStrip(day, hold)
      return { zone, zoneId, since, kind }
    }),
  }
}

/** What the greeter, the floor and the kiosk need: who is where in the way from the door to the stations. */
export interface FloorView {
  dayId: string
  students: {
    studentId: string
    bib: string | null
    classId: string
    presence: string
    late: boolean
    clearance: Student['clearance']['status']
    warmUp: 'due' | 'done'
    mass: 'missing' | 'weighed'
    coolDown: 'notDue' | 'due' | 'done'
    stopped: boolean
    healthEvent: boolean
    queue: string[]
    calledTo: string | null
    underWay: string | null
    stations: { stationId: string; left: boolean }[]
    normGroup: Student['normGroup']
    language: string
    briefed: string[]
    retest: { until: string; stationIds: string[] } | null
    walkIn: boolean
    coolDownExcused: boolean
    signedOff: boolean
  }[]
  holds: HoldStrip[]
  /** Somebody at a kiosk or a board wants a person, and nobody has answered yet. */
  calls: { callId: string; deviceId: string; at: number }[]
}

export function floorView(day: Day): FloorView {
  return {
    dayId: day.dayId,
    holds: holdsInForce(day).map((hold) => holdStrip(day, hold)),
    calls: [...day.calls].map(([callId, { deviceId, at }]) => ({ callId, deviceId, at })),
    students: [...day.students.values()].map((student) => {
      const state = shape(student)
      return {
        studentId: student.studentId,
        bib: student.bib,
        classId: student.classId,
        presence: state.presence,
        late: student.late,
        clearance: student.clearance.status,
        warmUp: state.warmUp,
        mass: state.mass,
        coolDown: state.coolDown,
        stopped: student.stop !== null,
        healthEvent: student.healthEvent,
        queue: student.queue.map((place) => place.stationId),
        calledTo: student.calledTo?.stationId ?? null,
        underWay: attemptUnderWay(student)?.stationId ?? null,
        stations: (day.opened?.rules.stations ?? []).map(({ stationId }) => ({
          stationId,
          left: state.stations[stationId] === 'due' && stationOf(day, stationId) !== undefined,
        })),
        normGroup: student.normGroup,
        language: student.language,
        briefed: [...student.briefed],
        retest: student.retest ? { until: student.retest.until, stationIds: student.retest.stationIds } : null,
        walkIn: student.walkIn,
        coolDownExcused: student.coolDownExcused,
        signedOff: student.signedOffAt !== null,
      }
    }),
  }
}
