import { z } from 'zod'
import { ClassId, StudentId } from '@musterbook/vocabulary/ids'
import { StudentCode, type StudentOnDay } from '@musterbook/vocabulary/office'
import { NormSex } from '@musterbook/vocabulary/office-events'
import { Language, type Role } from '@musterbook/vocabulary/people'
import { officeNo, officeSaid } from '../http/office-status.ts'
import { problem } from '../http/problem.ts'
import { route, type Route } from '../http/route.ts'
import type { Tools } from '../tools.ts'

export const PersonOnDay = z.object({
  studentId: StudentId,
  name: z.string(),
  familyName: z.string(),
  givenName: z.string(),
  classId: ClassId,
  /** What people call the class. */
  className: z.string(),
  /** From it the screen draws a face that is always the same. */
  face: z.string(),
  photoDigest: z.string().nullable(),
  /** Ids of others of this day whose names could be taken for this one. */
  lookAlike: z.array(StudentId),
  language: Language,
})
export type PersonOnDay = z.infer<typeof PersonOnDay>

/** What the code and the second identifier together show, to the student alone. */
export const LookUpAnswer = z.object({ student: PersonOnDay, normSex: NormSex, ageYears: z.int() })
export type LookUpAnswer = z.infer<typeof LookUpAnswer>

const staff: readonly Role[] = ['greeter', 'screener', 'station', 'safety', 'supervisor', 'coordinator', 'auditor']
const desk: readonly Role[] = ['kiosk', 'greeter', 'supervisor', 'coordinator']
const photoLimitBytes = 2 * 1024 * 1024

export const peopleRoutes = ({ office, rosterOf }: Tools): Route[] => [
  route('get', '/api/days/:dayId/people', {
    says: 'Names and faces of a day’s students, for staff. The day itself knows ids and bibs.',
    may: staff,
    answer: z.array(PersonOnDay),
    async go(c) {
      const roster = await rosterOf(c.req.param('dayId')!)
      if (!roster) return problem(c, 404, 'There is no such day.')
      const named = await classNames(office)
      return c.json((await office.studentsOnDay(roster.studentIds)).map(personOnDay(named)))
    },
  }),
  route('post', '/api/days/:dayId/look-ups', {
    says: 'One student by code and birth date together. One answer for either being wrong.',
    may: desk,
    body: z.strictObject({ code: StudentCode, second: z.strictObject({ birthDate: z.iso.date() }) }),
    answer: LookUpAnswer,
    status: 201,
    async go(c, { body: { code, second } }) {
      const roster = await rosterOf(c.req.param('dayId')!)
      if (!roster) return problem(c, 404, 'There is no such day.')
      const found = await office.lookUp({ code, birthDate: second.birthDate }, roster.facts.date, c.var.who.device!.deviceId)
      if ('refused' in found) return officeNo(c, found.refused)
      if (!roster.studentIds.includes(found.student.studentId))
        return problem(c, 404, 'This student is not on today’s roster. Ask the greeter.')
      // Who could be taken for this one is known among those of the day.
      const student = (await office.studentsOnDay(roster.studentIds)).find(({ studentId }) => studentId === found.student.studentId)
      return c.json(
        {
          student: personOnDay(await classNames(office))(student ?? found.student),
          normSex: found.normSex,
          ageYears: found.ageYears,
        } satisfies LookUpAnswer,
        201,
      )
    },
  }),
  route('post', '/api/students/:studentId/photo', {
    says: 'Keeps a picture taken at check-in: the bytes of a JPEG, PNG or WebP.',
    may: desk,
    bytes: true,
    limitBytes: photoLimitBytes,
    answer: z.object({ photoDigest: z.string() }),
    status: 201,
    async go(c, { body }) {
      const studentId = StudentId.safeParse(c.req.param('studentId'))
      if (!studentId.success) return problem(c, 404, 'There is no such student.')
      return officeSaid(c, await office.keepPhoto(studentId.data, body))
    },
  }),
  route('get', '/api/students/:studentId/photo', {
    says: 'The picture that was taken at check-in.',
    may: [...staff, 'kiosk'],
    async go(c) {
      const studentId = StudentId.safeParse(c.req.param('studentId'))
      const [student] = studentId.success ? await office.studentsOnDay([studentId.data]) : []
      const photo = student?.photoDigest ? await office.photo(student.photoDigest) : null
      if (!photo) return problem(c, 404, 'There is no such picture.')
      return c.body(new Uint8Array(photo.bytes), 200, { 'content-type': photo.mediaType, 'cache-control': 'private, no-store' })
    },
  }),
]

const classNames = async (office: Tools['office']): Promise<ReadonlyMap<ClassId, string>> =>
  new Map((await office.classes()).map(({ classId, name }) => [classId, name]))

/** The code is for looking up and stays at the office. */
const personOnDay =
  (named: ReadonlyMap<ClassId, string>) =>
  ({ studentId, name, familyName, givenName, classId, face, photoDigest, lookAlike, language }: StudentOnDay): PersonOnDay => ({
    studentId,
    name,
    familyName,
    givenName,
    classId,
    className: named.get(classId) ?? classId,
    face,
    photoDigest,
    lookAlike,
    language,
  })
