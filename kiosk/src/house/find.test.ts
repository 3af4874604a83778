import { expect, test } from 'vitest'
import { byBib, byName } from './find.ts'
import type { House } from './house.ts'

const names: Record<string, { givenName: string; familyName: string }> = {
  a: { givenName: 'Ada', familyName: 'Marsh' },
  b: { givenName: 'Yusuf', familyName: 'Al-Karam' },
  c: { givenName: 'Priya', familyName: 'Sandhal' },
  d: { givenName: 'Björn', familyName: 'Åsgard' },
  e: { givenName: 'Adam', familyName: 'Marsh' },
}
const house = { students: { value: new Map(Object.entries(names)) } } as unknown as House
const students = [
  { studentId: 'c', bib: '1010' },
  { studentId: 'a', bib: '102' },
  { studentId: 'e', bib: null },
  { studentId: 'b', bib: '99' },
  { studentId: 'd', bib: null },
]
const order = (by: typeof byBib) => students.toSorted(by(house)).map(({ studentId }) => studentId)

test('on the floor a list stands by number, those without one first and by name', () => {
  expect(order(byBib)).toEqual(['d', 'e', 'b', 'a', 'c'])
})

test('in the office a list stands by family name, then by the given one', () => {
  expect(order(byName)).toEqual(['b', 'd', 'a', 'e', 'c'])
})
