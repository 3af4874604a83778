import type { ClassId, PersonId, StudentId } from '@musterbook/vocabulary/ids'
import type { Office, RosterFate, RosterPreview, RosterTaken, Student } from '@musterbook/vocabulary/office'
import type { ClassEvent } from '@musterbook/vocabulary/office-events'
import { officeRefusal } from '@musterbook/vocabulary/office-refusals'
import { localDate } from '../civil-date.ts'
import { type Desk, readableCode } from '../desk.ts'
import type { Registers } from '../enrolment.ts'
import { studentShelf } from '../student-shelf.ts'
import { freeClassId, sameClass } from '../students.ts'
import { columnsOf, sayField } from './columns.ts'
import { decode } from './decode.ts'
import { type Candidate, type Fated, fatesOf, orderHint } from './fates.ts'
import { exportedAs, rosterFileText, withoutHead } from './roster-file.ts'
import { readTable } from './table.ts'

/** Looking at a file holds the process up, about a second at this size: a test day runs in it. */
const largestBytes = 1_000_000
const mostRows = 2_000
/** Previews are kept in memory alone: nothing is saved by looking. */
const mostPreviews = 20

interface Kept {
  fated: readonly Fated[]
  /** Where every register stood when it was looked at. */
  stoodAt: string
  accepted?: { commandId: string; answer: RosterTaken }
}
interface Needs {
  registers: Registers
  allStudents(): Promise<Student[]>
  nameOf(personId: PersonId): Promise<string>
  timeZone(): Promise<string>
}

/** Rosters as offices make them: looked at row by row, and saved only when somebody accepts what they saw. */
export function roster(
  desk: Desk,
  { registers, allStudents, nameOf, timeZone }: Needs,
): Pick<Office, 'previewRoster' | 'acceptRoster' | 'rosterFile'> {
  const previews = new Map<string, Kept>()
  const shelf = studentShelf(desk)

  const stoodAt = async () => {
    const heads = [...(await desk.ledger.streams('class/')), ...(await desk.ledger.streams('student/'))]
    return heads.map(({ stream, hash }) => `${stream} ${hash}`).join('\n')
  }
  const classNames = async () =>
    Promise.all((await registers.classes.ids()).map(async (id) => [id, (await registers.classes.read(id)).state.name] as const))

  const newestEntry = async (classId: ClassId, version: number) => {
    for await (const entry of desk.ledger.read(`class/${classId}`, version - 1)) return entry
    return undefined
  }

  return {
    rosterFile: async (classId) => {
      const { version, state } = await registers.classes.read(classId)
      if (state.name === '') return null
      const last = await newestEntry(classId, version)
      const students = (await allStudents()).filter((student) => student.classId === classId && !student.left)
      const personId = last?.meta.personId
      const writtenBy = personId ? await nameOf(personId as PersonId) : ''
      const on = last ? localDate(last.recordedAt, await timeZone()) : ''
      return { name: `roster-${classId}.csv`, text: rosterFileText(students, { className: state.name, version, writtenBy, on }) }
    },
    previewRoster: async (bytes, options) => {
      const why = unreadable(bytes)
      if (why) return officeRefusal('fileUnreadable', { why })
      const { text: whole, encoding } = decode(bytes, options.encoding)
      const { text, head } = withoutHead(whole)
      const table = readTable(text, options.delimiter)
      if (!table) return officeRefusal('fileUnreadable', { why: 'it has no rows, or hardly any that fit its first row' })
      if (table.rows.length > mostRows) return officeRefusal('fileUnreadable', { why: `it has more than ${mostRows} rows` })
      const columns = columnsOf(table.header, options.columns)
      if (columns.missing.length > 0) {
        const missing = columns.missing.map((field) => sayField[field]).join(', ')
        return officeRefusal('columnsMissing', { missing, found: table.header.join(', ') })
      }

      const names = new Map<string, string>(await classNames())
      const today = localDate(desk.now(), await timeZone())
      const world = { students: await allStudents(), classNameOf: (classId: string) => names.get(classId) ?? '', today }
      const fated = fatesOf(table.rows, columns, table.header.length, options, world)
      const previewId = desk.newId('preview')
      previews.set(previewId, { fated, stoodAt: await stoodAt() })
      for (const oldest of previews.keys()) if (previews.size > mostPreviews) previews.delete(oldest)

      const preview: RosterPreview = {
        previewId,
        encoding,
        delimiter: table.delimiter,
        columns: Object.fromEntries(Object.entries(columns.at).map(([field, index]) => [field, table.header[index] ?? ''])),
        ignoredColumns: columns.ignored,
        hint: orderHint(fated, table.rows, columns, options, today) ?? null,
        exported: exportedAs(head, table.rows, columns),
        rows: fated.map(({ row }) => row),
        counts: countsOf(fated),
      }
      return preview
    },

    acceptRoster: async (body, told) => {
      const preview = previews.get(body.previewId)
      if (!preview) return officeRefusal('noSuchPreview')
      if (preview.accepted) {
        return preview.accepted.commandId === told.envelope.commandId ? preview.accepted.answer : officeRefusal('noSuchPreview')
      }
      if (preview.stoodAt !== (await stoodAt())) return officeRefusal('previewOutdated')

      const plan = planOf(desk, preview.fated, body.choices, await allStudents(), await classNames())
      shelf.keep(plan.rows)
      for (const [classId, events] of plan.events) {
        const written = await registers.classes.write(classId, 'acceptRoster', body, told, () => events)
        if ('refused' in written) {
          // A name whose student no register holds is nobody's: it goes again.
          const enrolled = new Set((await allStudents()).map(({ studentId }) => studentId))
          shelf.forget(plan.rows.map(({ studentId }) => studentId).filter((studentId) => !enrolled.has(studentId)))
          return written
        }
      }
      previews.set(body.previewId, { ...preview, accepted: { commandId: told.envelope.commandId, answer: plan.answer } })
      return plan.answer
    },
  }
}

function unreadable(bytes: Uint8Array): string | undefined {
  if (bytes.length === 0) return 'it is empty'
  if (bytes.length > largestBytes) return 'it is larger than 1 MB'
  if (bytes[0] === 0x50 && bytes[1] === 0x4b) return 'it is a spreadsheet or an archive, not CSV'
  return undefined
}

function countsOf(fated: readonly Fated[]): Record<RosterFate, number> {
  const counts = { new: 0, changed: 0, unchanged: 0, asks: 0, unusable: 0 }
  for (const { row } of fated) counts[row.fate] += 1
  return counts
}

type Choices = Readonly<Record<string, 'take' | 'leave'>>

/** Everything that accepting will write, before anything is written. */
function planOf(
  desk: Desk,
  fated: readonly Fated[],
  choices: Choices,
  students: readonly Student[],
  classes: readonly (readonly [string, string])[],
) {
  const shelf = studentShelf(desk)
  const named: (readonly [string, string])[] = [...classes]
  const events = new Map<ClassId, ClassEvent[]>()
  const add = (classId: ClassId, ...more: ClassEvent[]) => void events.set(classId, [...(events.get(classId) ?? []), ...more])
  const answer: RosterTaken = { taken: [], left: [], newClasses: [] }

  const classFor = (className: string): ClassId => {
    const known = named.find(([, name]) => sameClass(name, className))
    if (known) return known[0] as ClassId
    const classId = freeClassId(className, named, desk)
    named.push([classId, className])
    answer.newClasses.push(classId)
    add(classId, { type: 'classNamed', classId, name: className })
    return classId
  }

  const rows = fated.flatMap(({ row, candidate }) => {
    if (!candidate || !isTaken(row.fate, choices[row.line])) {
      answer.left.push({ line: row.line, fate: row.fate })
      return []
    }
    const known = students.find(({ studentId }) => studentId === row.studentId)
    const code = known?.code ?? (candidate.code || readableCode(6))
    const studentId = known?.studentId ?? (desk.newId('student') as StudentId)
    answer.taken.push({ line: row.line, studentId, code })
    if (known) addChange(add, known, candidate, classFor(candidate.className))
    else
      add(classFor(candidate.className), { type: 'studentEnrolled', studentId, normSex: candidate.normSex, language: candidate.language })

    const { familyName, givenName } = candidate
    const kept = known && shelf.find(known.studentId)
    if (kept) return [{ ...kept, familyName, givenName }]
    return [{ studentId, code, familyName, givenName, birthDate: candidate.birthDate, face: desk.newId('face'), photoDigest: null }]
  })
  return { rows, events, answer }
}

const isTaken = (fate: RosterFate, choice: 'take' | 'leave' | undefined): boolean =>
  fate !== 'unusable' && (choice === undefined ? fate === 'new' || fate === 'changed' : choice === 'take')

function addChange(add: (classId: ClassId, ...events: ClassEvent[]) => void, known: Student, candidate: Candidate, classId: ClassId): void {
  const { studentId } = known
  const language = candidate.languageSaid ? candidate.language : known.language
  if (classId === known.classId && !known.left) return add(classId, { type: 'studentChanged', studentId, language })
  if (!known.left) add(known.classId, { type: 'studentLeft', studentId })
  add(classId, { type: 'studentEnrolled', studentId, normSex: known.normSex, language })
}
