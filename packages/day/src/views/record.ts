import { happenedAt } from '@musterbook/vocabulary/envelope'
import type { StudentId } from '@musterbook/vocabulary/ids'
import { shape, type Day } from '../day.ts'
import { resultOf, type StationResult } from '../results.ts'
import { attemptView, type AttemptView } from './parts.ts'

/** One student's day: the lasting record, as it stands. */
export interface RecordView {
  dayId: string
  title: string
  date: string
  rehearsal: boolean
  sealed: boolean
  studentId: string
  bib: string | null
  classId: string
  presence: string
  late: boolean
  normGroup: { sex: 'M' | 'W'; ageYears: number }
  mass: { amount: number; unit: string; scaleId: string; at: number; afterEffort: boolean } | null
  stations: {
    stationId: string
    name: string
    protocolId: string
    protocolVersion: number
    source: string
    invented: boolean
    result: StationResult
    attempts: AttemptView[]
  }[]
  /** Stations in the order in which they were first tried: order can change a score. */
  order: string[]
  entitlements: { entitlementId: string; stationIds: readonly string[]; until: string; because: string }[]
  coolDown: { state: string; at: number | null; excused: boolean }
  stopped: boolean
  signedOffAt: number | null
  reviews: { reviewId: string; because: string; at: number; ruling: string | null; stationId: string | null; attemptId: string | null }[]
  refusals: { act: string; rule: string; stationId: string | null; at: number }[]
}

export function recordView(day: Day, key: string): RecordView | null {
  const student = day.students.get(key as StudentId)
  if (!student || !day.opened) return null
  const { facts, rules } = day.opened
  const mass = student.weighIns.at(-1)
  return {
    dayId: day.dayId,
    title: facts.title,
    date: facts.date,
    rehearsal: facts.rehearsal,
    sealed: day.sealed !== null,
    studentId: student.studentId,
    bib: student.bib,
    classId: student.classId,
    presence: shape(student).presence,
    late: student.late,
    normGroup: student.normGroup,
    mass: mass
      ? { amount: mass.mass.amount, unit: mass.mass.unit, scaleId: mass.scaleId, at: mass.at, afterEffort: mass.afterEffort }
      : null,
    stations: rules.stations.map((station) => ({
      stationId: station.stationId,
      name: station.protocol.name,
      protocolId: station.protocol.protocolId,
      protocolVersion: station.protocol.version,
      source: String(station.protocol['source'] ?? ''),
      invented: station.protocol['invented'] === true,
      result: resultOf(day, student, station),
      attempts: student.attempts
        .filter((attempt) => attempt.stationId === station.stationId)
        .map((attempt) => attemptView(day, student, attempt)),
    })),
    order: [...new Set(student.attempts.filter((attempt) => attempt.status === 'recorded').map((attempt) => attempt.stationId))],
    entitlements: student.entitlements.map(({ entitlementId, stationIds, until, because }) => ({
      entitlementId,
      stationIds,
      until,
      because,
    })),
    coolDown: { state: shape(student).coolDown, at: student.coolDownAt, excused: student.coolDownExcused },
    stopped: student.stop !== null,
    signedOffAt: student.signedOffAt,
    reviews: [...day.reviews.values()]
      // A conflict between screeners is theirs alone.
      .filter((review) => review.about.studentId === student.studentId && review.because !== 'clearanceConflict')
      .map((review) => ({
        reviewId: review.reviewId,
        because: review.because,
        at: happenedAt(review.opened),
        ruling: review.ruled?.ruling ?? null,
        stationId: review.about.stationId,
        attemptId: review.about.attemptId,
      })),
    refusals: day.refusals
      .filter((one) => one.studentId === student.studentId)
      .map(({ act, rule, stationId, at }) => ({ act, rule, stationId, at })),
  }
}
