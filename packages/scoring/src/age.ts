import type { DayRules } from '@musterbook/vocabulary/rules'

/** When somebody born on 29 February has a birthday in a common year: a site's own policy, kept with each score. */
export type LeapBirthday = DayRules['leapBirthday']

/**
 * Completed years on the day of the test, from civil dates alone: no clock, no zone, no 365.25.
 *
 * @param birthDate 'YYYY-MM-DD'
 * @param testDate the site's own civil date of the day's first station, 'YYYY-MM-DD'
 * @throws RangeError when a date does not exist, or the test comes before the birth
 */
export function ageOn(birthDate: string, testDate: string, leapBirthday: LeapBirthday): number {
  const born = partsOf(birthDate)
  const test = partsOf(testDate)
  const birthday = birthdayIn(test.year, born, leapBirthday)
  const years = test.year - born.year - (100 * test.month + test.day < birthday ? 1 : 0)
  if (years < 0) throw new RangeError(`born ${birthDate}, after the test on ${testDate}`)
  return years
}

/** Month and day as one number, so that they compare: 301 is 1 March. */
function birthdayIn(year: number, born: { month: number; day: number }, leapBirthday: LeapBirthday): number {
  const isLeapling = born.month === 2 && born.day === 29
  if (isLeapling && !isLeap(year)) return leapBirthday === 'march1' ? 301 : 228
  return 100 * born.month + born.day
}

function partsOf(date: string): { year: number; month: number; day: number } {
  const [, year, month, day] = (/^(\d{4})-(\d{2})-(\d{2})$/.exec(date) ?? []).map(Number)
  if (year === undefined || month === undefined || day === undefined || day < 1 || day > daysIn(year, month)) {
    throw new RangeError(`${date} is not a date`)
  }
  return { year, month, day }
}

function daysIn(year: number, month: number): number {
  if (month < 1 || month > 12) return 0
  return month === 2 ? (isLeap(year) ? 29 : 28) : [4, 6, 9, 11].includes(month) ? 30 : 31
}

const isLeap = (year: number): boolean => (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0
