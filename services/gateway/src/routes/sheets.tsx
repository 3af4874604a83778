import { z } from 'zod'
import type { Day } from '@musterbook/day/day'
import type { DayView } from '@musterbook/day/views'
import type { BoardView } from '@musterbook/day/views/board'
import type { InboxView } from '@musterbook/day/views/inbox'
import type { RecordView } from '@musterbook/day/views/record'
import type { SafetyView } from '@musterbook/day/views/safety'
import type { View } from '@musterbook/vocabulary/ports'
import { PersonId, type DayId, type StudentId } from '@musterbook/vocabulary/ids'
import { Language, type Role } from '@musterbook/vocabulary/people'
import type { StudentOnDay } from '@musterbook/vocabulary/office'
import { problem } from '../http/problem.ts'
import { route, type HouseContext, type Route } from '../http/route.ts'
import { BadgeSheet } from '../sheets/badge-sheet.tsx'
import { BibSheet } from '../sheets/bib-sheet.tsx'
import { BriefingSheet } from '../sheets/briefing-sheet.tsx'
import { ClassSheet } from '../sheets/class-sheet.tsx'
import { CodeSheet } from '../sheets/code-sheet.tsx'
import { DaySheet, openIn } from '../sheets/day-sheet.tsx'
import { EmergencyCardSheet } from '../sheets/emergency-card-sheet.tsx'
import { PaperPack } from '../sheets/paper-pack.tsx'
import { OwnNormsSheet } from '../sheets/own-norms-sheet.tsx'
import { printer } from '../sheets/print.ts'
import { SafetyTimeline } from '../sheets/safety-timeline.tsx'
import { StudentSheet } from '../sheets/student-sheet.tsx'
import { studentWords } from '../sheets/student-words.ts'
import { stylesheets } from '../sheets/styles.ts'
import { ownNorms } from '../own-norms.ts'
import { siteDate } from '../site-date.ts'
import { progressBetween, trainFirst } from '../standings.ts'
import { statementsOf } from '../statements.ts'
import type { Tools } from '../tools.ts'

const lead: readonly Role[] = ['supervisor', 'coordinator', 'auditor']
const staff: readonly Role[] = ['greeter', 'screener', 'station', 'safety', ...lead]
const Query = z.object({ paper: z.enum(['A4', 'Letter']).default('A4') })
/** Without a language, the student’s own as the roster knows it. */
const StudentQuery = Query.extend({ language: Language.optional() })
const BriefingQuery = Query.extend({ language: Language.default('en') })
const mostBibs = 200
const BibNumber = z.coerce.number().int().min(0).max(9999)
/** Without numbers, the bibs that are worn today. */
const BibQuery = Query.extend({ from: BibNumber.default(0), to: BibNumber.default(0) })

/** Pages to print: the browser prints them, on A4 or Letter. */
export const sheetRoutes = (tools: Tools): Route[] => {
  const { office, ledger, views, rosterOf, replay, seals } = tools

  /** One view of the day, as a screen would see it now; undefined when there is none. */
  const view = async <Body,>(dayId: string, name: string, key = 'all'): Promise<Body | undefined> =>
    (await views.get(dayId, name, key))?.body as Body | undefined
  const print = printer(tools)
  /** What has changed since each earlier day on which this student was tested. */
  const since = async (whole: Day, day: DayView, studentId: string, rows: readonly View[]) => {
    const days = rows.map((row) => row.body as DayView)
    const before = days.filter((one) => one.date < day.date && one.rehearsal === day.rehearsal && one.studentIds.includes(studentId))
    const inOrder = before.sort((one, other) => (one.date < other.date ? -1 : 1))
    const found = await Promise.all(
      inOrder.map(async ({ dayId, date }) => {
        const first = await replay.newest(dayId)
        return { date, lines: first ? progressBetween(first, whole, studentId) : [] }
      }),
    )
    return found.filter(({ lines }) => lines.length > 0)
  }
  const noSuchDay = (c: HouseContext) => problem(c, 404, 'There is no such day, or it is not read yet.')
  const classNames = async () => new Map((await office.classes()).map(({ classId, name }) => [classId as string, name]))
  const byName = (one: StudentOnDay, other: StudentOnDay) =>
    one.familyName.localeCompare(other.familyName) || one.givenName.localeCompare(other.givenName)

  return [
    ...Object.entries(stylesheets).map(([name, css]) =>
      route('get', `/sheets/${name}`, {
        says: 'A stylesheet for printing.',
        may: 'anyone',
        go: (c) => c.body(css, 200, { 'content-type': 'text/css; charset=utf-8', 'cache-control': 'no-cache' }),
      }),
    ),
    route('get', '/sheets/days/:dayId/students/:studentId', {
      says: 'One student’s result sheet, to print, in the student’s language.',
      may: lead,
      query: StudentQuery,
      async go(c, { query }) {
        const { dayId, studentId } = params(c, 'dayId', 'studentId')
        const [day, record, [student]] = [
          await view<DayView>(dayId, 'day'),
          await view<RecordView>(dayId, 'record', studentId),
          await office.studentsOnDay([studentId as StudentOnDay['studentId']]),
        ]
        if (!day) return noSuchDay(c)
        if (!record) return problem(c, 404, 'This student is not on this day’s roster.')
        const name = student?.name ?? studentId
        const className = (await classNames()).get(record.classId) ?? record.classId
        const whole = await replay.newest(dayId)
        const language = query.language ?? student?.language ?? 'en'
        const say = studentWords[language]
        return print(
          c,
          day,
          { paper: query.paper, language, say },
          name,
          <StudentSheet
            say={say}
            record={record}
            name={name}
            className={className}
            timeZone={day.timeZone}
            statements={await statementsOf(office, dayId as DayId, studentId as StudentId)}
            train={whole ? trainFirst(whole, studentId) : []}
            earlier={whole ? await since(whole, day, studentId, await views.days()) : []}
          />,
        )
      },
    }),
    route('get', '/sheets/days/:dayId/classes/:classId', {
      says: 'A class with its results, by name, to print.',
      may: lead,
      query: Query,
      async go(c, { query }) {
        const { dayId, classId } = params(c, 'dayId', 'classId')
        const day = await view<DayView>(dayId, 'day')
        const roster = await rosterOf(dayId)
        if (!day || !roster) return noSuchDay(c)
        const inClass = (await office.studentsOnDay(roster.studentIds)).filter((student) => student.classId === classId).sort(byName)
        const records = await Promise.all(inClass.map(({ studentId }) => view<RecordView>(dayId, 'record', studentId)))
        const students = inClass.flatMap(({ name }, index) => (records[index] ? [{ name, record: records[index] }] : []))
        if (students.length === 0) return problem(c, 404, 'Nobody of this class is on this day’s roster.')
        const className = (await classNames()).get(classId) ?? classId
        return print(c, day, query, className, <ClassSheet className={className} title={day.title} date={day.date} students={students} />)
      },
    }),
    route('get', '/sheets/days/:dayId/own-norms', {
      says: 'What the site’s own records say, group by group, small groups refused, to read before a table is adopted.',
      may: lead,
      query: Query,
      async go(c, { query }) {
        const { dayId } = params(c, 'dayId')
        const day = await view<DayView>(dayId, 'day')
        const whole = await replay.newest(dayId)
        if (!day || !whole) return noSuchDay(c)
        const alike = (await views.days()).map((row) => row.body as DayView).filter((one) => one.rehearsal === day.rehearsal)
        const days = await Promise.all(alike.map((one) => replay.newest(one.dayId)))
        return print(
          c,
          day,
          query,
          'Own records',
          <OwnNormsSheet
            norms={ownNorms(
              whole,
              days.filter((one) => one !== undefined),
            )}
          />,
        )
      },
    }),
    route('get', '/sheets/days/:dayId/day', {
      says: 'The day in short with its head and digest, to print and keep apart from the machine.',
      may: lead,
      query: Query,
      async go(c, { query }) {
        const { dayId } = params(c, 'dayId')
        const day = await view<DayView>(dayId, 'day')
        const safety = await view<SafetyView>(dayId, 'safety')
        const inbox = await view<InboxView>(dayId, 'inbox')
        if (!day || !safety || !inbox) return noSuchDay(c)
        const { version, hash, sealed } = await ledger.head(`day/${dayId}`)
        return print(
          c,
          day,
          query,
          day.title,
          <DaySheet
            day={day}
            safety={safety}
            open={openIn(inbox)}
            head={{ version, hash, sealed }}
            seal={await seals.sealOf(dayId)}
            fingerprint={seals.fingerprint}
          />,
        )
      },
    }),
    route('get', '/sheets/days/:dayId/safety-timeline', {
      says: 'Readings, holds and stops of a day with who answered them and when, students by bib and stops without a reason, to print.',
      may: ['screener', 'safety', ...lead],
      query: Query,
      async go(c, { query }) {
        const { dayId } = params(c, 'dayId')
        const day = await view<DayView>(dayId, 'day')
        const board = await view<BoardView>(dayId, 'board')
        if (!day || !board) return noSuchDay(c)
        const bibs = new Map(board.students.map(({ studentId, bib }) => [studentId as string, bib]))
        const staffNames = new Map((await office.people()).map(({ personId, name }) => [personId as string, name]))
        const deviceNames = new Map((await office.devices()).map(({ deviceId, name }) => [deviceId as string, name]))
        const zones = new Map(day.zones.map(({ zoneId, name }) => [zoneId, name]))
        const named = {
          bib: (studentId: string) => `#${bibs.get(studentId) ?? 'no bib'}`,
          zone: (zoneId: string | null) => (zoneId ? (zones.get(zoneId) ?? zoneId) : 'no zone named'),
          staff: (personId: string | null) => (personId ? (staffNames.get(personId) ?? personId) : 'nobody'),
          device: (deviceId: string) => deviceNames.get(deviceId) ?? deviceId,
        }
        const entries = await tools.replay.entriesOf(dayId, 0, Number.MAX_SAFE_INTEGER)
        return print(
          c,
          day,
          query,
          'Readings, holds and stops',
          <SafetyTimeline title={day.title} date={day.date} timeZone={day.timeZone} entries={entries} named={named} />,
        )
      },
    }),
    route('get', '/sheets/days/:dayId/codes', {
      says: 'A card for each student with the code that the kiosk reads, to print and cut.',
      may: ['greeter', 'supervisor', 'coordinator'],
      query: Query,
      async go(c, { query }) {
        const { dayId } = params(c, 'dayId')
        const day = await view<DayView>(dayId, 'day')
        const roster = await rosterOf(dayId)
        if (!day || !roster) return noSuchDay(c)
        const board = await view<BoardView>(dayId, 'board')
        const names = await classNames()
        const students = (await office.studentsOnDay(roster.studentIds)).sort(byName).map(({ studentId, name, code, classId }) => ({
          name,
          code,
          className: names.get(classId) ?? classId,
          bib: board?.students.find((student) => student.studentId === studentId)?.bib ?? null,
        }))
        return print(c, day, query, 'Codes and bibs', <CodeSheet title={day.title} date={day.date} students={students} />)
      },
    }),
    route('get', '/sheets/days/:dayId/bibs', {
      says: 'Bibs to print and cut: the number, its code and the day, and nobody’s name.',
      may: ['greeter', 'supervisor', 'coordinator'],
      query: BibQuery,
      async go(c, { query }) {
        const { dayId } = params(c, 'dayId')
        const day = await view<DayView>(dayId, 'day')
        if (!day) return noSuchDay(c)
        if (query.to < query.from || query.to - query.from >= mostBibs)
          return problem(c, 422, `Ask for ${mostBibs} bibs at most, the lower number first.`)
        const board = await view<BoardView>(dayId, 'board')
        const worn = new Set(board?.students.flatMap(({ bib }) => bib ?? []))
        const bibs = query.from === 0 ? [...worn].sort((one, other) => Number(one) - Number(other)) : numbers(query.from, query.to)
        if (bibs.length === 0) return problem(c, 404, 'No bib is bound on this day yet. Ask for numbers: ?from=101&to=140.')
        return print(c, day, query, 'Bibs', <BibSheet title={day.title} date={day.date} bibs={bibs} />)
      },
    }),
    route('get', '/sheets/days/:dayId/paper', {
      says: 'Numbered sheets for every station, to print before they are needed: for a day on which no tablet works.',
      may: ['greeter', 'station', 'safety', 'supervisor', 'coordinator'],
      query: Query,
      async go(c, { query }) {
        const { dayId } = params(c, 'dayId')
        const day = await view<DayView>(dayId, 'day')
        const roster = await rosterOf(dayId)
        if (!day || !roster) return noSuchDay(c)
        const known = (await replay.newest(dayId))?.students
        const students = (await office.studentsOnDay(roster.studentIds))
          .sort(byName)
          .map(({ studentId, name }) => {
            const student = known?.get(studentId)
            return { name, bib: student?.bib ?? null, sex: student?.normGroup.sex ?? null }
          })
          .sort((one, other) => Number(one.bib ?? 1_000_000) - Number(other.bib ?? 1_000_000))
        return print(c, day, query, 'Paper sheets', <PaperPack day={day} students={students} />)
      },
    }),
    route('get', '/sheets/badges', {
      says: 'A badge for each of the staff who has one, to print and cut: the name, what they are here, and a code that chooses the name.',
      may: ['supervisor', 'coordinator'],
      query: Query.extend({ person: PersonId.optional() }),
      async go(c, { query }) {
        const site = await office.site()
        const people = (await office.people()).filter(({ left, personId }) => !left && (!query.person || personId === query.person))
        const badges = people.flatMap(({ name, roles, badge }) => (badge ? [{ name, roles, badge }] : []))
        if (!site || badges.length === 0)
          return problem(c, 404, 'Nobody has a badge yet. The coordinator makes them in the office, under People.')
        const date = await siteDate(tools)
        return print(
          c,
          { date, timeZone: site.timeZone, rehearsal: false },
          query,
          'Staff badges',
          <BadgeSheet siteName={site.name} badges={badges} />,
        )
      },
    }),
    route('get', '/sheets/emergency-card', {
      says: 'The emergency card in force at this site, to print and hang up.',
      may: staff,
      query: Query,
      async go(c, { query }) {
        const [card, site] = [await office.emergencyCard(), await office.site()]
        if (!card || !site) return problem(c, 404, 'No emergency card is in force. Two people adopt one in the office, under Rules.')
        const names = new Map((await office.people()).map(({ personId, name }) => [personId, name]))
        const adoptedBy = [card.proposedBy, card.adoptedBy].map((personId) => names.get(personId) ?? personId)
        return print(
          c,
          { date: card.adoptedOn, timeZone: site.timeZone, rehearsal: false },
          query,
          'Emergency card',
          <EmergencyCardSheet card={card} siteName={site.name} adoptedBy={adoptedBy} />,
        )
      },
    }),
    route('get', '/sheets/days/:dayId/briefings/:stationId', {
      says: 'What a class is told before one test, to print.',
      may: staff,
      query: BriefingQuery,
      async go(c, { query }) {
        const { dayId, stationId } = params(c, 'dayId', 'stationId')
        const day = await view<DayView>(dayId, 'day')
        if (!day) return noSuchDay(c)
        const station = day.stations.find((one) => one.stationId === stationId)
        if (!station) return problem(c, 404, 'There is no such station on this day.')
        return print(c, day, query, station.name, <BriefingSheet protocol={station.protocol} language={query.language} />)
      },
    }),
  ]
}

const numbers = (from: number, to: number): string[] => Array.from({ length: to - from + 1 }, (_, index) => String(from + index))

function params<Name extends string>(c: HouseContext, ...names: Name[]): Record<Name, string> {
  return Object.fromEntries(names.map((name) => [name, c.req.param(name) ?? ''])) as Record<Name, string>
}
