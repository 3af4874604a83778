import { shape, type Day, type Student } from '../day.ts'
import { equipmentChecks, type EquipmentCheck } from './parts.ts'

/** What the weigh-in desk sees. A body mass stands here, on the record and in the medical list, and nowhere else. */
export interface WeighInView {
  dayId: string
  students: {
    studentId: string
    bib: string | null
    classId: string
    presence: string
    /** Does anything that is still due ask for a body mass? */
    needed: boolean
    mass: { amount: number; unit: string; scaleId: string; at: number; afterEffort: boolean } | null
  }[]
  /** What was checked today. Equipment that does not stand here has not been. */
  equipment: (EquipmentCheck & {
    /** Students weighed on it since its last good check: a failed check puts them under review. */
    weighedSince: number
  })[]
}

export function weighInView(day: Day): WeighInView {
  const students = [...day.students.values()]
  return {
    dayId: day.dayId,
    students: students.map((student) => {
      const newest = student.weighIns.at(-1)
      return {
        studentId: student.studentId,
        bib: student.bib,
        classId: student.classId,
        presence: shape(student).presence,
        needed: isNeeded(day, student),
        mass: newest
          ? {
              amount: newest.mass.amount,
              unit: newest.mass.unit,
              scaleId: newest.scaleId,
              at: newest.at,
              afterEffort: newest.afterEffort,
            }
          : null,
      }
    }),
    equipment: equipmentChecks(day).map((check) => ({
      ...check,
      weighedSince: students.filter((student) =>
        student.weighIns.some((one) => one.scaleId === check.equipmentId && one.at >= (check.lastGoodAt ?? 0)),
      ).length,
    })),
  }
}

function isNeeded(day: Day, student: Student): boolean {
  const { presence, stations } = shape(student)
  return (
    presence === 'present' &&
    (day.opened?.rules.stations ?? []).some(
      ({ stationId, protocol }) => protocol.prerequisites.includes('bodyMass') && stations[stationId] === 'due',
    )
  )
}
