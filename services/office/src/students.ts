import { ageOn } from '@musterbook/scoring/age'
import type { ClassId, StudentId } from '@musterbook/vocabulary/ids'
import type { Office, Student, StudentOnDay } from '@musterbook/vocabulary/office'
import type { ClassEvent } from '@musterbook/vocabulary/office-events'
import { officeRefusal } from '@musterbook/vocabulary/office-refusals'
import type { LeapBirthday } from '@musterbook/scoring/age'
import { localDate } from './civil-date.ts'
import type { Desk } from './desk.ts'
import { type Enrolled, everyoneEnrolled, type Registers } from './enrolment.ts'
import { lookAlikes } from './look-alike.ts'
import { type StudentRow, studentShelf } from './student-shelf.ts'
import type { Texts } from './texts.ts'
import { type Limit, tries } from './tries.ts'

/** Completed years within which somebody can be a student here at all: what a norm group can say. */
export const ages = { from: 10, to: 99 }

type Students = Pick<
  Office,
  | 'classes'
  | 'nameClass'
  | 'studentsOfClass'
  | 'student'
  | 'enrolStudent'
  | 'letStudentGo'
  | 'correctNormSex'
  | 'correctBirthDate'
  | 'studentsOnDay'
  | 'lookUp'
  | 'findStudents'
>
interface Needs {
  registers: Registers
  texts: Texts
  leapBirthday(): Promise<LeapBirthday>
  timeZone(): Promise<string>
}

/** Classes and who is in them. The day's stream knows a student by an id; who that is stands here. */
export function students(
  desk: Desk,
  { registers, texts, leapBirthday, timeZone }: Needs,
): Students & { allStudents(): Promise<Student[]> } {
  const shelf = studentShelf(desk)
  const counted = tries(desk.people)

  /** Of those asked for, or of everybody, in their order. */
  const known = async (studentIds?: readonly StudentId[]): Promise<Student[]> => {
    const everyone = await everyoneEnrolled(registers)
    return [...(studentIds ?? everyone.keys())].flatMap((studentId) => {
      const [enrolled, row] = [everyone.get(studentId), shelf.find(studentId)]
      return enrolled && row ? [studentOf(row, enrolled)] : []
    })
  }
  const one = async (studentId: StudentId): Promise<Student | undefined> => (await known([studentId]))[0]
  const classOf = async (studentId: StudentId) => (await everyoneEnrolled(registers)).get(studentId)?.classId
  const today = async () => localDate(desk.now(), await timeZone())

  return {
    classes: async () =>
      Promise.all(
        (await registers.classes.ids()).map(async (classId) => {
          const { name, students } = (await registers.classes.read(classId)).state
          return { classId: classId as ClassId, name, students: [...students.values()].filter(({ left }) => !left).length }
        }),
      ),
    nameClass: async (body, told) => {
      const named = await Promise.all(
        (await registers.classes.ids()).map(async (id) => [id, (await registers.classes.read(id)).state.name] as const),
      )
      const classId = body.classId ?? freeClassId(body.name, named, desk)
      const written = await registers.classes.write(classId, 'nameClass', body, told, () =>
        named.some(([id, name]) => sameClass(name, body.name) && !(body.classId && id === classId))
          ? officeRefusal('classExists', { name: body.name })
          : [{ type: 'classNamed', classId, name: body.name }],
      )
      return 'refused' in written ? written : { classId }
    },
    studentsOfClass: async (classId) => {
      const { students } = (await registers.classes.read(classId)).state
      return marked((await known([...students.keys()])).filter((each) => each.classId === classId && !each.left))
    },
    student: async (studentId) => (await one(studentId)) ?? null,
    allStudents: () => known(),
    findStudents: async (asked, atMost) => {
      const sought = folded(asked)
      const byCode = shelf.byCode(asked)
      const classes = await Promise.all(
        (await registers.classes.ids()).map(async (classId) => [classId, (await registers.classes.read(classId)).state.name] as const),
      )
      const isClass = new Set(classes.filter(([, name]) => folded(name) === sought).map(([classId]) => classId as string))
      const answers = (student: Student) =>
        student.studentId === byCode?.studentId ||
        isClass.has(student.classId) ||
        (sought.length > 1 && folded(student.name).includes(sought))
      const found = sought === '' ? [] : (await known()).filter(answers)
      return found.sort((one, other) => one.familyName.localeCompare(other.familyName)).slice(0, atMost)
    },
    enrolStudent: async (body, told) => {
      const { classId, code, familyName, givenName, birthDate, normSex, language } = body
      if (!isPossibleBirthDate(birthDate, await today())) return officeRefusal('impossibleBirthDate', { birthDate })
      const holder = shelf.byCode(code)
      const studentId = desk.newId('student') as StudentId
      const heard = await desk.ledger.find(`class/${classId}`, told.envelope.commandId)
      if (holder && !heard && (await everyoneEnrolled(registers)).has(holder.studentId)) return officeRefusal('codeTaken', { code })
      // A row without an enrolment is what a crash left between the two; its code is free again.
      if (holder && !heard) shelf.forget([holder.studentId])
      if (!heard) shelf.keep([{ studentId, code, familyName, givenName, birthDate, face: desk.newId('face'), photoDigest: null }])
      const written = await registers.classes.write(classId, 'enrolStudent', body, told, ({ name }) =>
        name === '' ? officeRefusal('noSuchClass') : [{ type: 'studentEnrolled', studentId, normSex, language }],
      )
      if ('refused' in written && !heard) shelf.forget([studentId])
      return 'refused' in written ? written : { studentId: enrolledIn(written.events) ?? studentId }
    },
    letStudentGo: async (body, told) => {
      const classId = await classOf(body.studentId)
      if (!classId) return officeRefusal('noSuchStudent')
      const written = await registers.classes.write(classId, 'letStudentGo', body, told, () => [
        { type: 'studentLeft', studentId: body.studentId },
      ])
      return 'refused' in written ? written : { studentId: body.studentId }
    },
    correctNormSex: async (body, told) => {
      const { studentId, to } = body
      const student = await one(studentId)
      if (!student) return officeRefusal('noSuchStudent')
      const second = told.by.countersigned
      if (!second) return officeRefusal('secondPersonMissing')
      if (second.personId === told.by.personId) return officeRefusal('secondPersonSame')
      const reason = texts.seal(body.reason, 'general', studentId)
      const countersigned = { personId: second.personId }
      const written = await registers.students.write(studentId, 'correctNormSex', body, told, ({ normSex }) => [
        { type: 'normSexCorrected', studentId, from: normSex ?? student.normSex, to, reason, countersigned },
      ])
      return 'refused' in written ? written : { studentId }
    },
    correctBirthDate: async (body, told) => {
      const { studentId, to } = body
      const row = shelf.find(studentId)
      if (!row) return officeRefusal('noSuchStudent')
      if (!isPossibleBirthDate(to, await today())) return officeRefusal('impossibleBirthDate', { birthDate: to })
      const second = told.by.countersigned
      if (!second) return officeRefusal('secondPersonMissing')
      if (second.personId === told.by.personId) return officeRefusal('secondPersonSame')
      const reason = texts.seal(body.reason, 'general', studentId)
      const countersigned = { personId: second.personId }
      const written = await registers.students.write(studentId, 'correctBirthDate', body, told, () => [
        { type: 'birthDateCorrected', studentId, reason, countersigned },
      ])
      if ('refused' in written) return written
      shelf.keep([{ ...row, birthDate: to }])
      return { studentId }
    },
    studentsOnDay: async (studentIds) => {
      return marked(await known(studentIds)).map(asOnDay)
    },
    lookUp: async ({ code, birthDate }, date, deviceId) => {
      const limits: Limit[] = [
        { who: `look-up at ${deviceId}`, free: 10, forgive: false },
        { who: `look-up of ${desk.keys.mark('secret', `look-up ${code}`)}`, free: 5, forgive: true },
      ]
      const seconds = counted.take(limits, desk.now())
      if (seconds > 0) return officeRefusal('lookUpWait', { seconds })
      const row = shelf.byCode(code)
      const student = row && (await one(row.studentId))
      if (!student || student.left || student.birthDate !== birthDate) return officeRefusal('noMatch')
      counted.right(limits)
      return { student: asOnDay(student), normSex: student.normSex, ageYears: ageOn(birthDate, date, await leapBirthday()) }
    },
  }
}

export function isPossibleBirthDate(birthDate: string, today: string): boolean {
  if (birthDate > today) return false
  const years = ageOn(birthDate, today, 'march1')
  return years >= ages.from && years <= ages.to
}

/** A short id that a person recognises in the ledger, where the name gives one that is free; otherwise chance. */
export function freeClassId(name: string, taken: readonly (readonly [string, string])[], desk: Desk): ClassId {
  const slug = name
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 40)
  const isFree = slug !== '' && !taken.some(([id, other]) => id === slug && !sameClass(name, other))
  return (isFree ? slug : desk.newId('class')) as ClassId
}

export const sameClass = (one: string, other: string): boolean =>
  one.normalize('NFKC').toLowerCase() === other.normalize('NFKC').toLowerCase()

/** Without marks, case and outer spaces: names are typed from memory. */
const folded = (text: string): string => text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase().trim()

const enrolledIn = (events: readonly ClassEvent[]) => events.find((event) => event.type === 'studentEnrolled')?.studentId

const studentOf = (row: StudentRow, { classId, language, normSex, left }: Enrolled & { classId: ClassId }): Student => ({
  studentId: row.studentId,
  name: `${row.givenName} ${row.familyName}`,
  familyName: row.familyName,
  givenName: row.givenName,
  code: row.code,
  classId,
  face: row.face,
  photoDigest: row.photoDigest,
  lookAlike: [],
  language,
  birthDate: row.birthDate,
  normSex,
  left,
})

function asOnDay({ birthDate: _birthDate, normSex: _normSex, left: _left, ...rest }: Student): StudentOnDay {
  return rest
}

function marked(students: readonly Student[]): Student[] {
  const alike = lookAlikes(students.map((student) => [student.studentId, student] as const))
  return students.map((student) => ({ ...student, lookAlike: alike.get(student.studentId) ?? [] }))
}
