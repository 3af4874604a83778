import type { House } from './house.ts'

interface Findable {
  studentId: string
  bib: string | null
}

/** Does this student answer to what was typed: a bib, or a part of a name? */
export function answersTo(house: House, typed: string, student: Findable): boolean {
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

/** On the floor, where everybody wears a bib: in its order. Who has none yet is waited for, and stands first, by family name. */
export const byBib =
  (house: House) =>
  (one: Findable, other: Findable): number =>
    Number(one.bib) - Number(other.bib) || byName(house)(one, other)

/** In the office: in the order of family names, as people look for them in a list. */
export const byName =
  (house: House) =>
  (one: { studentId: string }, other: { studentId: string }): number => {
    const [first, second] = [house.students.value.get(one.studentId), house.students.value.get(other.studentId)]
    return (
      (first?.familyName ?? '').localeCompare(second?.familyName ?? '') || (first?.givenName ?? '').localeCompare(second?.givenName ?? '')
    )
  }
