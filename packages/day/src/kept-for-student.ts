import type { Day, Student } from './day.ts'

/**
 * Keeps what was worked out for a student until the student, or one of these parts of the day, is another: days and
 * students are never changed in place, so the same ones give the same answer. The picture of a day of forty is drawn
 * after every entry, and most entries touch one student.
 */
export function keptForStudent<Value>(
  work: (day: Day, student: Student, key: string) => Value,
): (day: Day, student: Student, key: string) => Value {
  const kept = new WeakMap<Student, Map<string, { parts: readonly unknown[]; value: Value }>>()
  return (day, student, key) => {
    const parts = [day.opened, day.sealed, day.reviews, day.holds, day.readings, day.equipment]
    const known = kept.get(student) ?? new Map<string, { parts: readonly unknown[]; value: Value }>()
    const before = known.get(key)
    if (before && before.parts.every((part, index) => part === parts[index])) return before.value
    const value = work(day, student, key)
    known.set(key, { parts, value })
    kept.set(student, known)
    return value
  }
}
