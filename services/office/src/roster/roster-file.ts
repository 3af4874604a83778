import { digest } from '@musterbook/evidence/canonical'
import { csvCell } from '@musterbook/vocabulary/csv'
import type { RosterField, RosterPreview, Student } from '@musterbook/vocabulary/office'
import type { Columns } from './columns.ts'
import { readTable, type TableRow } from './table.ts'

const mark = '#musterbook roster'
const columns: readonly (readonly [RosterField, string])[] = [
  ['code', 'Code'],
  ['familyName', 'Family name'],
  ['givenName', 'Given name'],
  ['birthDate', 'Birth date'],
  ['normSex', 'Norm sex'],
  ['class', 'Class'],
  ['language', 'Language'],
]

interface Head {
  class: string
  version: string
}

/** A class as a table that the roster's own reader takes back. Its first line says which class, which version, whose and the checksum. */
export function rosterFileText(
  students: readonly Student[],
  { className, version, writtenBy, on }: { className: string; version: number; writtenBy: string; on: string },
): string {
  const rows = students.map((student) => {
    const { code, familyName, givenName, birthDate, normSex, language } = student
    return [code, familyName, givenName, birthDate, normSex, className, language]
  })
  const head = { class: className, version: `version ${version}` }
  const first = [mark, head.class, head.version, `written by ${writtenBy}`, on, checksumOf(head, rows)]
  return [first, columns.map(([, heading]) => heading), ...rows]
    .map((cells) => `${cells.map((cell) => csvCell(cell, ';')).join(';')}\r\n`)
    .join('')
}

/** SHA-256 of the canonical form of class, version and rows, each row in our own order of columns. */
const checksumOf = (head: Head, rows: readonly (readonly string[])[]): string => `sha256:${digest({ ...head, rows })}`

/** Takes our first line off a file; a line remains in its place, so that every row keeps its number. */
export function withoutHead(text: string): { text: string; head: readonly string[] | undefined } {
  const [line = '', ...rest] = text.split('\n')
  if (!line.replace(/^"/, '').startsWith(mark)) return { text, head: undefined }
  return { text: ['', ...rest].join('\n'), head: readTable(line)?.header }
}

/** Is it still as it was written? Columns in another order, other separators and another encoding change nothing. */
export function exportedAs(head: readonly string[] | undefined, rows: readonly TableRow[], { at }: Columns): RosterPreview['exported'] {
  if (!head) return null
  const [, className = '', version = '', , , checksum = ''] = head
  const written = rows.map(({ cells }) => columns.map(([field]) => cells?.[at[field] ?? -1] ?? ''))
  const isSame = checksumOf({ class: className, version }, written) === checksum
  return { class: className, version, checksum: isSame ? 'matches' : 'changed' }
}
