import { openReviews, shape, stationOf, zoneOf, type Day, type Student } from '../day.ts'

/** The screener's list. Reasons, answers and notes are not here: they lie in the medical compartment. */
export interface MedicalView {
  dayId: string
  stations: { stationId: string; name: string }[]
  students: MedicalStudent[]
}
export interface MedicalStudent {
  studentId: string
  bib: string | null
  classId: string
  presence: string
  late: boolean
  clearance: {
    status: Student['clearance']['status']
    limits: Student['clearance']['limits']
    by: string | null
    at: number | null
    clearanceId: string | null
  }
  standing: { clearanceId: string; status: string; limits: Student['clearance']['limits']; personId: string | null; at: number }[]
  conflict: boolean
  stop: { since: number; zone: string | null; answers: { answer: string; at: number }[] } | null
  referrals: { referralId: string; to: string; at: number; outcome: string | null }[]
  healthEvent: boolean
  massAmount: number | null
  massUnit: string | null
  /** Had an effort been started before any clearance stood? */
  skipped: boolean
}

export function medicalView(day: Day): MedicalView {
  const conflicts = new Set(openReviews(day).flatMap((review) => (review.because === 'clearanceConflict' ? [review.about.studentId] : [])))
  return {
    dayId: day.dayId,
    stations: (day.opened?.rules.stations ?? []).map(({ stationId, protocol }) => ({
      stationId,
      name: stationOf(day, stationId)?.protocol.name ?? protocol.name,
    })),
    students: [...day.students.values()].map((student) => {
      const newest = student.clearances.at(-1)
      const mass = student.weighIns.at(-1)?.mass
      return {
        studentId: student.studentId,
        bib: student.bib,
        classId: student.classId,
        presence: shape(student).presence,
        late: student.late,
        clearance: { ...student.clearance, by: newest?.personId ?? null, at: newest?.at ?? null, clearanceId: newest?.clearanceId ?? null },
        standing: student.clearances.map((clearance) => ({ ...clearance })),
        conflict: conflicts.has(student.studentId) || student.clearances.length > 1,
        stop: student.stop
          ? {
              since: student.stop.since,
              zone: student.stop.zoneId ? (zoneOf(day, student.stop.zoneId)?.name ?? null) : null,
              answers: student.stop.answers.map(({ answer, at }) => ({ answer, at })),
            }
          : null,
        referrals: student.referrals.map(({ referralId, to, at, answered }) => ({
          referralId,
          to,
          at,
          outcome: answered?.outcome ?? null,
        })),
        healthEvent: student.healthEvent,
        massAmount: mass?.amount ?? null,
        massUnit: mass?.unit ?? null,
        skipped:
          student.clearance.status === 'pending' &&
          day.refusals.some((one) => one.studentId === student.studentId && one.rule === 'notCleared'),
      }
    }),
  }
}
