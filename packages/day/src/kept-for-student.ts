import type { Day, Student } from './day.ts'

/**
 * Keeps what was worked out for a student until the student, or one of the named parts of the day, is another: days and
 * students are never changed in place, so the same ones give the same answer. The picture of a day of forty is drawn
 * after every entry, and most entries touch one student.
 */
export function keptForStudent<Part extends keyof Day, Seen extends Pick<Day, Part>, Value>(
  parts: readonly Part[],
  work: (day: Seen, student: Student, key: string) => Value,
): (day: Seen, student: Student, key: string) => Value {
  type Kept = { of: readonly unknown[]; value: Value }
  const kept = new WeakMap<Student, Map<string, Kept>>()
  return (day, student, key) => {
    const known = kept.get(student) ?? new Map<string, Kept>()
    const before = known.get(key)
    if (before && parts.every((part, index) => before.of[index] === day[part])) return before.value
    const value = work(day, student, key)
    known.set(key, { of: parts.map((part) => day[part]), value })
    kept.set(student, known)
    return value
  }
}
