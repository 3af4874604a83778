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

/** Names, codes and birth dates of students, by id. */
export function studentShelf({ people: store }: Desk) {
  const columns = 'studentId, code, familyName, givenName, birthDate, face, photoDigest'
  const find = store.prepare(`SELECT ${columns} FROM student WHERE studentId = ?`)
  const byCode = store.prepare(`SELECT ${columns} FROM student WHERE codeKey = ?`)
  const all = store.prepare(`SELECT ${columns} FROM student`)
  const keep = store.prepare(
    `REPLACE INTO student (${columns}, codeKey) VALUES (@studentId, @code, @familyName, @givenName, @birthDate, @face, @photoDigest, @codeKey)`,
  )
  const forget = store.prepare('DELETE FROM student WHERE studentId = ?')
  return {
    find: (studentId: string) => find.get(studentId) as StudentRow | undefined,
    byCode: (code: string) => byCode.get(codeKey(code)) as StudentRow | undefined,
    all: () => all.all() as StudentRow[],
    keep: store.transaction((rows: readonly StudentRow[]) => {
      for (const row of rows) keep.run({ ...row, codeKey: codeKey(row.code) })
    }).immediate,
    forget: store.transaction((studentIds: readonly StudentId[]) => {
      for (const studentId of studentIds) forget.run(studentId)
    }).immediate,
  }
}
export type StudentShelf = ReturnType<typeof studentShelf>
