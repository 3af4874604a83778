import type { StudentId } from '@musterbook/vocabulary/ids'
import type { Desk } from './desk.ts'

/** What is personal about a student. */
export interface StudentRow {
  studentId: StudentId
  code: string
  familyName: string
  givenName: string
  birthDate: string
  face: string
  photoDigest: string | null
}

/** Codes are read off cards and typed: case, width and spaces do not tell two apart. */
export const codeKey = (code: string): string => code.normalize('NFKC').toUpperCase().replace(/\s+/gu, '')

/** Whose keys seal what: the record with its names and words, and the medical compartment. */
export const recordOwner = (studentId: string): string => `record:${studentId}`
export const medicalOwner = (studentId: string): string => `medical:${studentId}`
export const ownersOf = (studentId: string): readonly [string, string] => [recordOwner(studentId), medicalOwner(studentId)]

interface Kept {
  studentId: StudentId
  sealed: Buffer
}

/** Names, codes and birth dates of students, by id: each sealed for its student, found by a keyed mark of the code. */
export function studentShelf({ people: store, keys }: Desk) {
  const find = store.prepare('SELECT studentId, sealed FROM sealedStudent WHERE studentId = ?')
  const byCode = store.prepare('SELECT studentId, sealed FROM sealedStudent WHERE codeMark = ?')
  const ids = store.prepare('SELECT studentId FROM sealedStudent').pluck()
  const keep = store.prepare('REPLACE INTO sealedStudent (studentId, codeMark, sealed) VALUES (?, ?, ?)')
  const forget = store.prepare('DELETE FROM sealedStudent WHERE studentId = ?')
  const markOf = (code: string) => keys.mark('studentCode', codeKey(code))
  const opened = (row: Kept | undefined): StudentRow | undefined => {
    const text = row && keys.openFor(recordOwner(row.studentId), row.studentId, row.sealed)
    return text ? (JSON.parse(text) as StudentRow) : undefined
  }
  return {
    find: (studentId: string) => opened(find.get(studentId) as Kept | undefined),
    byCode: (code: string) => opened(byCode.get(markOf(code)) as Kept | undefined),
    ids: () => ids.all() as StudentId[],
    keep: store.transaction((rows: readonly StudentRow[]) => {
      keys.makeOwn(rows.flatMap(({ studentId }) => ownersOf(studentId)))
      for (const row of rows)
        keep.run(row.studentId, markOf(row.code), keys.sealFor(recordOwner(row.studentId), row.studentId, JSON.stringify(row)))
    }).immediate,
    forget: store.transaction((studentIds: readonly StudentId[]) => {
      for (const studentId of studentIds) forget.run(studentId)
    }).immediate,
  }
}
