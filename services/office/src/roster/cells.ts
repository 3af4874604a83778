import type { RosterOptions } from '@musterbook/vocabulary/office'
import type { NormSex } from '@musterbook/vocabulary/office-events'
import type { Language } from '@musterbook/vocabulary/people'
import { plainName } from '../look-alike.ts'

/** What a cell says, with what was assumed in reading it; or why it says nothing. */
export type Cell<T> = { value: T; assumed?: string } | { wrong: string }

/**
 * A birth date in the declared order. A year written first with four digits is always year, month, day. Two digits of a year are read as the
 * latest such year in which the person would be at least `youngest`, and said.
 */
export function birthDateIn(cell: string, order: RosterOptions['dateOrder'], today: string, youngest: number): Cell<string> {
  const text = westernDigits(cell).trim()
  if (text === '') return { wrong: 'The birth date is missing.' }
  const parts = /^(\d{1,4})([./ -])(\d{1,2})\2(\d{1,4})(?:[ T]00:00(?::00(?:\.0+)?)?)?$/.exec(text)
  if (!parts) return { wrong: `“${cell}” is not read as a birth date.` }
  const [first, , second, third] = parts.slice(1) as [string, string, string, string]
  const by = first.length > 2 ? 'ymd' : order
  const [year, month, day] = by === 'ymd' ? [first, second, third] : by === 'dmy' ? [third, second, first] : [third, first, second]
  if (year.length === 3 || day.length > 2) return { wrong: `“${cell}” does not fit the date order ${sayOrder[by]}.` }

  const full = year.length > 2 ? Number(year) : fullYear(Number(year), Number(today.slice(0, 4)) - youngest)
  const value = `${String(full).padStart(4, '0')}-${month.padStart(2, '0')}-${day.padStart(2, '0')}`
  if (!exists(full, Number(month), Number(day))) return { wrong: `“${cell}” does not exist as ${sayOrder[by]}.` }
  return year.length > 2 ? { value } : { value, assumed: `Two digits of the year: “${cell}” is read as ${value}.` }
}

export const sayOrder = { dmy: 'day, month, year', mdy: 'month, day, year', ymd: 'year, month, day' } as const

const fullYear = (twoDigits: number, latest: number): number => latest - ((((latest - twoDigits) % 100) + 100) % 100)

function exists(year: number, month: number, day: number): boolean {
  const date = new Date(Date.UTC(2000, 0, 1))
  date.setUTCFullYear(year, month - 1, day)
  return year > 0 && date.getUTCMonth() === month - 1 && date.getUTCDate() === day
}

/** Arabic-Indic and full-width digits as 0 to 9. */
const westernDigits = (text: string): string =>
  text.normalize('NFKC').replace(/[\u0660-\u0669\u06f0-\u06f9]/gu, (digit) => String((digit.codePointAt(0) ?? 0) & 0xf))

const sexes: Record<NormSex, readonly string[]> = {
  M: ['m', 'male', 'man', 'men', 'mann', 'hombre', 'masculino', 'homme', 'ذكر'],
  W: ['w', 'f', 'k', 'female', 'woman', 'women', 'frau', 'kvinne', 'mujer', 'femenino', 'femme', 'weiblich', 'انثى', 'أنثى'],
}
export function normSexIn(cell: string): Cell<NormSex> {
  const plain = plainName(cell)
  if (plain === '') return { wrong: 'Which norms apply (M or W) is missing.' }
  const value = (['M', 'W'] as const).find((sex) => sexes[sex].map(plainName).includes(plain))
  return value ? { value } : { wrong: `“${cell}” does not say which norms apply: M or W.` }
}

const languages: Record<Language, readonly string[]> = {
  en: ['en', 'eng', 'english', 'engelsk', 'englisch', 'ingles', 'anglais'],
  es: ['es', 'spa', 'spanish', 'espanol', 'castellano', 'spansk', 'spanisch'],
  ar: ['ar', 'ara', 'arabic', 'arabisk', 'arabisch', 'العربية'],
}
export function languageIn(cell: string): Cell<Language> {
  const plain = plainName(cell)
  const value = (['en', 'es', 'ar'] as const).find((language) => languages[language].map(plainName).includes(plain))
  if (value) return { value }
  return { value: 'en', ...(plain !== '' && { assumed: `There is no “${cell}” here yet; English is used.` }) }
}

/** A name on one line, as it was written. */
export function nameIn(cell: string, what: string): Cell<string> {
  const value = cell
    .normalize('NFC')
    .replace(/[\s\p{Cc}]+/gu, ' ')
    .trim()
  if (value === '') return { wrong: `The ${what} is missing.` }
  if (value.length > 120) return { wrong: `The ${what} is longer than 120 characters.` }
  if (value.includes('\ufffd')) return { wrong: `The ${what} holds characters that the file’s encoding does not give back.` }
  return { value }
}
