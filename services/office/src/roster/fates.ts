import { ageOn } from '@musterbook/scoring/age'
import type { RosterField, RosterOptions, RosterRow, Student } from '@musterbook/vocabulary/office'
import type { NormSex } from '@musterbook/vocabulary/office-events'
import type { Language } from '@musterbook/vocabulary/people'
import { areLookAlikes, lookAlikesAmong, plainName } from '../look-alike.ts'
import { codeKey } from '../student-shelf.ts'
import { ages, sameClass } from '../students.ts'
import { birthDateIn, type Cell, languageIn, nameIn, normSexIn, sayOrder } from './cells.ts'
import type { Columns } from './columns.ts'
import type { TableRow } from './table.ts'

/** A row that could be read: what saving it would write. */
export interface Candidate {
  line: number
  /** Empty: one will be made. */
  code: string
  familyName: string
  givenName: string
  birthDate: string
  normSex: NormSex
  className: string
  language: Language
  /** Did the file say? Otherwise a student keeps theirs. */
  languageSaid: boolean
}
export interface Fated {
  row: RosterRow
  /** Undefined: unusable. */
  candidate: Candidate | undefined
}
interface World {
  students: readonly Student[]
  classNameOf(classId: string): string
  today: string
}

/** Who stood on earlier lines, and who is here already. */
interface Seen {
  codes: Map<string, Candidate>
  people: Map<string, Candidate>
  students: ReadonlyMap<string, Student>
  twins: ReadonlyMap<string, readonly Student[]>
}

/** Outside these the office is asked; outside `ages` nobody is taken. */
const usualAges = { from: 16, to: 70 }

/** What will become of each row, decided row by row: a bad one never touches a good one. */
export function fatesOf(rows: readonly TableRow[], columns: Columns, width: number, options: RosterOptions, world: World): Fated[] {
  const read = rows.map((row) => readRow(row, columns, width, options, world.today))
  const seen: Seen = {
    codes: new Map(),
    people: new Map(),
    students: new Map(world.students.map((student) => [codeKey(student.code), student])),
    twins: groupedBy(world.students, personKey),
  }
  const fated = read.map((each) => (each.candidate ? fateOf(each, each.candidate, seen, world) : each))
  markLookAlikes(fated, world.students)
  return fated
}

function readRow({ line, cells }: TableRow, columns: Columns, width: number, options: RosterOptions, today: string): Fated {
  const unusable = (says: string[], values: RosterRow['values']): Fated => ({
    row: { line, fate: 'unusable', says, lookAlikes: [], values, studentId: null },
    candidate: undefined,
  })
  if (!cells) return unusable(['This line cannot be taken apart: a quotation mark is out of place.'], {})

  const cell = (field: RosterField): string => (columns.at[field] === undefined ? '' : (cells[columns.at[field]] ?? ''))
  const values: RosterRow['values'] = {}
  for (const field of Object.keys(columns.at) as RosterField[]) values[field] = cell(field)
  const extra = cells.slice(width).filter((each) => each !== '')
  if (extra.length > 0) return unusable([`There are more cells than columns: “${extra.join(', ')}” belongs to none.`], values)

  const says: string[] = []
  const wrong: string[] = []
  const take = <T>(read: Cell<T>, otherwise: T): T => {
    if ('wrong' in read) wrong.push(read.wrong)
    else if (read.assumed) says.push(read.assumed)
    return 'wrong' in read ? otherwise : read.value
  }
  const candidate: Candidate = {
    line,
    code: cell('code') === '' ? '' : take(nameIn(cell('code'), 'code'), ''),
    familyName: take(nameIn(cell('familyName'), 'family name'), ''),
    givenName: take(nameIn(cell('givenName'), 'given name'), ''),
    birthDate: take(birthDateIn(cell('birthDate'), options.dateOrder, today, ages.from), ''),
    normSex: take(normSexIn(cell('normSex')), 'M'),
    className: cell('class') === '' ? (options.className ?? '') : take(nameIn(cell('class'), 'class'), ''),
    language: take(languageIn(cell('language')), 'en'),
    languageSaid: cell('language') !== '',
  }
  if (candidate.code.length > 40) wrong.push('The code is longer than 40 characters.')
  if (candidate.className === '') wrong.push('No class is named, in the row or for the file.')
  if (candidate.className.length > 60) wrong.push('The class is longer than 60 characters.')
  if (candidate.birthDate !== '') wrong.push(...impossibleAge(candidate.birthDate, today))
  if (wrong.length > 0) return unusable([...wrong, ...says], values)
  if (candidate.code === '') says.push('There is no code; one will be made.')
  return {
    row: { line, fate: 'new', says, lookAlikes: [], values: { ...values, birthDate: candidate.birthDate }, studentId: null },
    candidate,
  }
}

function impossibleAge(birthDate: string, today: string): string[] {
  if (birthDate > today) return [`The birth date ${birthDate} is in the future.`]
  const years = ageOn(birthDate, today, 'march1')
  return years < ages.from || years > ages.to ? [`Born ${birthDate} would be ${years} years old: that cannot be.`] : []
}

function fateOf({ row, candidate }: Fated, mine: Candidate, seen: Seen, world: World): Fated {
  const asks: string[] = []
  const years = ageOn(mine.birthDate, world.today, 'march1')
  if (years < usualAges.from || years > usualAges.to) asks.push(`${years} years old: is the birth date right?`)

  const sameCode = mine.code === '' ? undefined : seen.codes.get(codeKey(mine.code))
  const samePerson = seen.people.get(personKey(mine))
  if (sameCode) {
    const isSame = personKey(sameCode) === personKey(mine)
    const says = isSame ? `The same student stands on line ${sameCode.line} already.` : `Line ${sameCode.line} has the same code.`
    return { row: { ...row, fate: 'unusable', says: [says, ...row.says] }, candidate: undefined }
  }
  if (samePerson) asks.push(`The same name and birth date stand on line ${samePerson.line}.`)
  if (mine.code !== '') seen.codes.set(codeKey(mine.code), mine)
  if (!samePerson) seen.people.set(personKey(mine), mine)

  const known = mine.code === '' ? undefined : seen.students.get(codeKey(mine.code))
  const twin = seen.twins.get(personKey(mine))?.find((student) => student !== known)
  if (twin) asks.push(`A student of this name and birth date has code ${twin.code} already.`)
  if (!known) return { row: withFate(row, asks, 'new'), candidate }

  const changes = changesOf(known, mine, world)
  if (!areLookAlikes(known, mine) && known.birthDate !== mine.birthDate)
    asks.push(`Code ${known.code} belongs to ${known.name}, born on another day: another person?`)
  else if (known.birthDate !== mine.birthDate)
    asks.push(`The birth date differs from the one on record. It stays; correct it with a second person.`)
  if (known.normSex !== mine.normSex) asks.push('The norm group differs from the one on record. It stays; correct it with a second person.')
  return {
    row: {
      ...withFate({ ...row, says: [...changes, ...row.says] }, asks, changes.length > 0 ? 'changed' : 'unchanged'),
      studentId: known.studentId,
    },
    candidate,
  }
}

const withFate = (row: RosterRow, asks: readonly string[], otherwise: RosterRow['fate']): RosterRow => ({
  ...row,
  fate: asks.length > 0 ? 'asks' : otherwise,
  says: [...asks, ...row.says],
})

const personKey = (person: { familyName: string; givenName: string; birthDate: string }): string =>
  `${person.birthDate} ${plainName(`${person.givenName} ${person.familyName}`)}`

function groupedBy<T>(values: readonly T[], key: (value: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>()
  for (const value of values) {
    const group = groups.get(key(value))
    if (group) group.push(value)
    else groups.set(key(value), [value])
  }
  return groups
}

function changesOf(known: Student, mine: Candidate, world: World): string[] {
  const className = world.classNameOf(known.classId)
  return [
    ...(known.familyName !== mine.familyName ? [`Family name: ${known.familyName} → ${mine.familyName}.`] : []),
    ...(known.givenName !== mine.givenName ? [`Given name: ${known.givenName} → ${mine.givenName}.`] : []),
    ...(mine.languageSaid && known.language !== mine.language ? [`Language: ${known.language} → ${mine.language}.`] : []),
    ...(known.left || !sameClass(className, mine.className) ? [`Class: ${known.left ? 'left' : className} → ${mine.className}.`] : []),
  ]
}

/** A warning, never a fate: people do have similar names. */
function markLookAlikes(fated: readonly Fated[], students: readonly Student[]): void {
  const candidates = fated.flatMap(({ row, candidate }) => (candidate ? [[row, candidate] as const] : []))
  const among = lookAlikesAmong(candidates)
  for (const [row, candidate] of candidates) {
    row.lookAlikes.push(...among(candidate).flatMap((other) => (other === row ? [] : [`line ${other.line}`])))
  }
  for (const student of students) {
    if (student.left) continue
    for (const row of among(student)) if (row.studentId !== student.studentId) row.lookAlikes.push(`code ${student.code}`)
  }
}

/** The file's dates under another order: said when they fit only that one. */
export function orderHint(
  fated: readonly Fated[],
  rows: readonly TableRow[],
  columns: Columns,
  options: RosterOptions,
  today: string,
): string | undefined {
  const cells = rows.flatMap(({ cells }) => (cells && columns.at.birthDate !== undefined ? [cells[columns.at.birthDate] ?? ''] : []))
  const fits = (order: RosterOptions['dateOrder']) => cells.filter((cell) => 'value' in birthDateIn(cell, order, today, ages.from)).length
  const others = (['dmy', 'mdy', 'ymd'] as const).filter((order) => order !== options.dateOrder && fits(order) > fits(options.dateOrder))
  return fated.length > 0 && others[0] ? `More of the dates fit ${sayOrder[others[0]]}.` : undefined
}
