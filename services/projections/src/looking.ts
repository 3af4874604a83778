import type { Day, Student } from '@musterbook/day/day'

/** The parts of a day, and the single students, that something was made of. */
export interface Looked {
  readonly parts: Map<keyof Day, unknown>
  readonly students: Map<string, Student | undefined>
}

/** The day, and a note of what is looked at in it. A day is never changed in place, so what is the same object is the same. */
export function lookingAt(day: Day): { seen: Day; looked: Looked } {
  const looked: Looked = { parts: new Map(), students: new Map() }
  const students = new Proxy(day.students, {
    get: (map, name) => {
      if (name === 'get') {
        return (studentId: Student['studentId']) => {
          looked.students.set(studentId, map.get(studentId))
          return map.get(studentId)
        }
      }
      looked.parts.set('students', map)
      const member: unknown = Reflect.get(map, name, map)
      return typeof member === 'function' ? member.bind(map) : member
    },
  })
  const seen = new Proxy(day, {
    get: (whole, name) => {
      if (name === 'students') return students
      const part: unknown = Reflect.get(whole, name)
      looked.parts.set(name as keyof Day, part)
      return part
    },
  })
  return { seen, looked }
}

/** Would whoever looked at that see the same in this day? */
export function isAsLooked(day: Day, { parts, students }: Looked): boolean {
  for (const [name, part] of parts) if (day[name] !== part) return false
  for (const [studentId, student] of students) if (day.students.get(studentId as Student['studentId']) !== student) return false
  return true
}
