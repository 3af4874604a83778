import type { House } from './house.ts'

/** Does this student answer to what was typed: a bib, or a part of a name? */
export function answersTo(house: House, typed: string, student: { studentId: string; bib: string | null }): boolean {
  const sought = plain(typed)
  if (sought === '') return true
  if (/^#?\d+$/.test(sought)) return student.bib === sought.replace('#', '')
  return plain(house.students.value.get(student.studentId)?.name ?? '').includes(sought)
}

const plain = (text: string): string =>
  text
    .trim()
    .toLocaleLowerCase()
    .normalize('NFKD')
    .replace(/\p{Mn}/gu, '')

/** In the order of their family names, as people look for them. */
export const byName =
  (house: House) =>
  (one: { studentId: string }, other: { studentId: string }): number => {
    const [first, second] = [house.students.value.get(one.studentId), house.students.value.get(other.studentId)]
    return (
      (first?.familyName ?? '').localeCompare(second?.familyName ?? '') || (first?.givenName ?? '').localeCompare(second?.givenName ?? '')
    )
  }
