import fc from 'fast-check'
import { expect, test } from 'vitest'
import { ageOn } from './age.ts'

test.each([
  ['1997-05-11', '2027-05-11', 'march1', 30],
  ['1997-05-12', '2027-05-11', 'march1', 29],
  ['2000-02-29', '2030-02-28', 'march1', 29],
  ['2000-02-29', '2030-03-01', 'march1', 30],
  ['2000-02-29', '2030-02-28', 'february28', 30],
  ['2000-02-29', '2030-02-27', 'february28', 29],
  ['2000-02-29', '2028-02-28', 'february28', 27],
  ['2000-02-29', '2028-02-29', 'march1', 28],
  ['2000-02-28', '2030-02-28', 'march1', 30],
  ['2000-03-01', '2030-02-28', 'february28', 29],
  ['2000-02-29', '2100-02-28', 'march1', 99],
  ['2027-05-11', '2027-05-11', 'march1', 0],
] as const)('born %s is, on %s by %s, %i', (born, test, rule, years) => {
  expect(ageOn(born, test, rule)).toBe(years)
})

test.each(['1997-02-29', '1997-13-01', '1997-00-10', '1997-04-31', '97-05-11', '1997-5-11', '1900-02-29', '', '1997-05-11T00:00'])(
  '%s is not a date',
  (date) => {
    expect(() => ageOn(date, '2027-05-11', 'march1')).toThrow(RangeError)
    expect(() => ageOn('1990-01-01', date, 'march1')).toThrow(RangeError)
  },
)

test('nobody is tested before they were born', () => {
  expect(() => ageOn('2027-05-12', '2027-05-11', 'march1')).toThrow(RangeError)
})

const day = fc.integer({ min: 0, max: 40_000 }).map((days) => new Date(Date.UTC(1930, 0, 1) + days * 86_400_000).toISOString().slice(0, 10))

/** The calendar that every engine carries: 29 February of a common year is 1 March there. */
function byCalendar(born: string, tested: string): number {
  const [year = 0, month = 0, date = 0] = born.split('-').map(Number)
  const birthday = (age: number) => Date.UTC(year + age, month - 1, date)
  let age = 0
  while (birthday(age + 1) <= Date.parse(`${tested}T00:00:00Z`)) age += 1
  return age
}

test('agrees with the calendar of the engine, thousands of times', () => {
  fc.assert(
    fc.property(day, day, (one, other) => {
      const [born, tested] = one < other ? [one, other] : [other, one]
      expect(ageOn(born, tested, 'march1')).toBe(byCalendar(born, tested))
    }),
    { numRuns: 5000 },
  )
})

test('the two policies differ on one day in common years, for one birthday', () => {
  fc.assert(
    fc.property(day, day, (one, other) => {
      const [born, tested] = one < other ? [one, other] : [other, one]
      const later = ageOn(born, tested, 'february28') - ageOn(born, tested, 'march1')
      expect(later).toBe(born.endsWith('02-29') && tested.endsWith('02-28') && Number(tested.slice(0, 4)) % 4 !== 0 ? 1 : 0)
    }),
  )
})
