import { z } from 'zod'
import type { DayView } from '@musterbook/day/views'
import type { RecordView } from '@musterbook/day/views/record'
import { StudentId } from '@musterbook/vocabulary/ids'
import type { Role } from '@musterbook/vocabulary/people'
import { agreements } from '../agreement.ts'
import { type ClassPage, cohortPage } from '../cohort.ts'
import { dueForErasure } from '../due.ts'
import { problem } from '../http/problem.ts'
import { route, type HouseContext, type Route } from '../http/route.ts'
import { CohortSheet } from '../sheets/cohort-sheet.tsx'
import { printer } from '../sheets/print.ts'
import { StudentFileSheet } from '../sheets/student-file-sheet.tsx'
import { studentFile, type FoundStudent } from '../student-file.ts'
import type { Tools } from '../tools.ts'

const readers: readonly Role[] = ['supervisor', 'coordinator', 'auditor']
const Paper = z.object({ paper: z.enum(['A4', 'Letter']).default('A4') })
/** More than these are asked for more closely: the records are not a list to leaf through. */
const foundAtMost = 30

/** Where no policy of records is in force. */
const leastShown = 5

/** Records over the years, what is due to end, and classes in counts. */
export const recordRoutes = (tools: Tools): Route[] => {
  const { office, views, replay } = tools
  const fileOf = async (c: HouseContext) => {
    const studentId = StudentId.safeParse(c.req.param('studentId'))
    return studentId.success ? studentFile(tools, studentId.data) : undefined
  }
  const cohortOf = async (c: HouseContext): Promise<{ day: DayView; cohort: ClassPage } | undefined> => {
    const dayId = c.req.param('dayId') ?? ''
    const day = (await views.get(dayId, 'day', 'all'))?.body as DayView | undefined
    const roster = await tools.rosterOf(dayId)
    if (!day || !roster) return undefined
    const rows = await Promise.all(roster.studentIds.map((studentId) => views.get(dayId, 'record', studentId)))
    const records = rows.flatMap((row) => (row ? [row.body as RecordView] : []))
    const inClass = records.filter(({ classId }) => classId === c.req.param('classId'))
    if (inClass.length === 0) return undefined
    const least = (await office.recordsPolicy())?.leastShown ?? leastShown
    const whole = await replay.newest(dayId)
    const agreement = whole ? agreements(whole, new Set(inClass.map(({ studentId }) => studentId)), least) : []
    return { day, cohort: { ...cohortPage(inClass, least), agreement } }
  }
  const staffNames = async () => new Map((await office.people()).map(({ personId, name }) => [personId as string, name]))
  const print = printer(tools)
  const noFile = (c: HouseContext) => problem(c, 404, 'There is no record of such a student.')
  const noClass = (c: HouseContext) => problem(c, 404, 'There is no such day, or this class was not tested on it.')

  return [
    route('get', '/api/records/students', {
      says: `Students who answer to a code, a part of a name, or a class: at most ${foundAtMost}, and nobody where nothing is asked.`,
      may: readers,
      query: z.object({ find: z.string().max(120).default('') }),
      answer: z.array(z.object({ studentId: z.string(), name: z.string(), code: z.string(), className: z.string() })),
      async go(c, { query: { find } }) {
        const classes = new Map((await office.classes()).map(({ classId, name }) => [classId as string, name]))
        const found = await office.findStudents(find, foundAtMost)
        return c.json(
          found.map(({ studentId, name, code, classId }): FoundStudent => ({
            studentId,
            name,
            code,
            className: classes.get(classId) ?? classId,
          })),
        )
      },
    }),
    route('get', '/api/records/students/:studentId', {
      says: 'One student’s record over the years: days, progress, entitlements, what was superseded, cases.',
      may: readers,
      answer: z.looseObject({ studentId: z.string() }),
      async go(c) {
        const file = await fileOf(c)
        return file ? c.json(file) : noFile(c)
      },
    }),
    route('get', '/api/records/policy', {
      says: 'The rules of records in force: days to answer in, years kept, the smallest group shown. null: none is adopted.',
      may: readers,
      answer: z.unknown(),
      go: async (c) => c.json(await office.recordsPolicy()),
    }),
    route('get', '/api/records/due', {
      says: 'Records whose years are over by the rules in force, what holds them, and erasures asked for and done. Nothing is erased by itself.',
      may: readers,
      answer: z.looseObject({ due: z.array(z.unknown()) }),
      go: async (c) => c.json(await dueForErasure(tools)),
    }),
    route('get', '/api/days/:dayId/cohorts/:classId', {
      says: 'A class on one day in counts. Small groups are not shown, nor what they could be worked out from.',
      may: readers,
      answer: z.looseObject({ groups: z.array(z.string()) }),
      async go(c) {
        const found = await cohortOf(c)
        return found ? c.json(found.cohort) : noClass(c)
      },
    }),
    route('get', '/sheets/days/:dayId/cohorts/:classId', {
      says: 'The same to print.',
      may: readers,
      query: Paper,
      async go(c, { query: { paper } }) {
        const found = await cohortOf(c)
        if (!found) return noClass(c)
        const className = (await office.classes()).find(({ classId }) => classId === c.req.param('classId'))?.name ?? ''
        const { day, cohort } = found
        const staff = await staffNames()
        return print(c, day, { paper }, className, <CohortSheet day={day} className={className} cohort={cohort} staff={staff} />)
      },
    }),
    route('get', '/sheets/records/:studentId', {
      says: 'One student’s record over the years, to print.',
      may: readers,
      query: Paper,
      async go(c, { query: { paper } }) {
        const file = await fileOf(c)
        if (!file) return noFile(c)
        const timeZone = (await office.site())?.timeZone ?? 'UTC'
        const staff = await staffNames()
        const rehearsal = file.days.length > 0 && file.days.every(({ day }) => day.rehearsal)
        const title = file.who?.name ?? file.studentId
        return print(c, { timeZone, rehearsal }, { paper }, title, <StudentFileSheet file={file} timeZone={timeZone} staff={staff} />)
      },
    }),
  ]
}
