import fc from 'fast-check'
import { expect, test } from 'vitest'
import { areLookAlikes, lookAlikes, lookAlikesAmong, plainName } from './look-alike.ts'

const named = (givenName: string, familyName: string) => ({ givenName, familyName })

test.each([
  [named('Ada', 'Marsh'), named('Adam', 'Marsh')],
  [named('José', 'Núñez'), named('Jose', 'Nunez')],
  [named('Björn', 'Åsgard'), named('BJORN', 'Asgaard')],
  [named('Anna-Lena', 'Kroon'), named('Anna Lena', 'Kroon')],
  [named('Thomas', 'Henry'), named('Henry', 'Thomas')],
  [named('Søren', 'Straße'), named('Soren', 'Strasse')],
  [named('Maria Luisa', 'Ferrán'), named('Luisa Maria', 'Ferran')],
  [named('مُحَمَّد', 'الكرم'), named('محمد', 'الكرم')],
  [named('Li', 'Wu'), named('Li', 'Xu')],
])('%o could be taken for %o', (one, other) => {
  expect(areLookAlikes(one, other)).toBe(true)
})

test.each([
  [named('Ada', 'Marsh'), named('Callum', 'Strand')],
  [named('Li', 'Wu'), named('Bo', 'Xu')],
  [named('Marek', 'Dune'), named('Marisol', 'Ibarrondo')],
  [named('Olga', 'Petrov'), named('Anna', 'Petrov')],
])('%o could not be taken for %o', (one, other) => {
  expect(areLookAlikes(one, other)).toBe(false)
})

const word = fc.string({ minLength: 1, maxLength: 12, unit: fc.constantFrom(...'abcdeéøñ') })
const anyName = fc.record({ givenName: word, familyName: word })

test('the same both ways, and everybody looks like themselves', () => {
  fc.assert(
    fc.property(anyName, anyName, (one, other) => {
      expect(areLookAlikes(one, other)).toBe(areLookAlikes(other, one))
      expect(areLookAlikes(one, one)).toBe(true)
      expect(areLookAlikes(one, { givenName: one.familyName, familyName: one.givenName })).toBe(true)
    }),
  )
})

test('one letter put in, left out or exchanged in a name of eight is always seen', () => {
  const letters = fc.array(fc.constantFrom(...'abcdefgh'), { minLength: 8, maxLength: 14 })
  fc.assert(
    fc.property(letters, fc.nat(), fc.constantFrom('in', 'out', 'for'), (name, at, how) => {
      const index = at % name.length
      const changed = name.toSpliced(index, how === 'in' ? 0 : 1, ...(how === 'out' ? [] : ['z']))
      expect(areLookAlikes(named('Ada', name.join('')), named('Ada', changed.join('')))).toBe(true)
    }),
  )
})

test('each is told of each other', () => {
  const people = [
    ['a', named('Ada', 'Marsh')],
    ['b', named('Adam', 'Marsh')],
    ['c', named('Ida', 'Marsh')],
    ['d', named('Kofi', 'Brandt')],
  ] as const
  expect(lookAlikes(people)).toEqual(
    new Map([
      ['a', ['b', 'c']],
      ['b', ['a', 'c']],
      ['c', ['a', 'b']],
    ]),
  )
})

test('looking somebody up among many finds the same as comparing with each', () => {
  fc.assert(
    fc.property(fc.array(anyName, { maxLength: 25 }), anyName, (people, person) => {
      const found = lookAlikesAmong(people.map((each, index) => [index, each] as const))(person)
      expect(found).toEqual(people.flatMap((each, index) => (areLookAlikes(person, each) ? [index] : [])))
    }),
    { numRuns: 300 },
  )
})

test('vowel signs of other scripts are letters', () => {
  expect(plainName('कि')).not.toBe(plainName('का'))
})
