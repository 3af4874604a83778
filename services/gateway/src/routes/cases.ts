import { z } from 'zod'
import { evidenceText } from '@musterbook/replay/bundle'
import { hearingCopy, type HearingCopy } from '@musterbook/replay/hearing'
import type { DayView } from '@musterbook/day/views'
import type { RecordView } from '@musterbook/day/views/record'
import { CaseId } from '@musterbook/vocabulary/case'
import { DayId, StudentId, TextId } from '@musterbook/vocabulary/ids'
import { bundlePage } from '../bundle.ts'
import { problem } from '../http/problem.ts'
import { route, type HouseContext, type Route } from '../http/route.ts'
import { CaseLetter } from '../sheets/case-letter.tsx'
import { HearingCopySheet, textIdsOf } from '../sheets/hearing-copy.tsx'
import { printedPictures } from '../sheets/pictures.tsx'
import { printer } from '../sheets/print.ts'
import { statementsOf } from '../statements.ts'
import type { Tools } from '../tools.ts'
import { replayRoles } from '../view-roles.ts'

const Brief = z.looseObject({ caseId: z.string(), state: z.string() })
const Paper = z.object({ paper: z.enum(['A4', 'Letter']).default('A4') })

/** A hearing copy with the words that were typed: what is not medical, and names nobody else. */
type Copy = HearingCopy & { name: string; texts: Record<string, string>; statements: string[] }

/** Cases, to read. What is done about one stands among the office's acts: `POST /api/office/cases` and its neighbours. */
export const caseRoutes = (tools: Tools): Route[] => {
  const { office, replay, views, seals, files } = tools
  const dayOf = async (dayId: string) => (await views.get(dayId, 'day', 'all'))?.body as DayView | undefined
  const staffNames = async () => new Map((await office.people()).map(({ personId, name }) => [personId as string, name]))
  const print = printer(tools)
  const headOf = async (dayId: string) => {
    const recorded = await replay.entriesOf(dayId, 0, Number.MAX_SAFE_INTEGER)
    return { recorded, head: { entries: recorded.length, hash: recorded.at(-1)?.hash ?? '' } }
  }
  const copyOf = async (c: HouseContext): Promise<Copy | undefined> => {
    const dayId = DayId.safeParse(c.req.param('dayId'))
    const studentId = StudentId.safeParse(c.req.param('studentId'))
    if (!dayId.success || !studentId.success) return undefined
    const { recorded, head } = await headOf(dayId.data)
    const copy = hearingCopy(dayId.data, recorded, head, studentId.data)
    const roster = await tools.rosterOf(dayId.data)
    if (!copy || !roster) return undefined
    const students = await office.studentsOnDay(roster.studentIds)
    const name = students.find((one) => one.studentId === studentId.data)?.name ?? studentId.data
    const others = students.filter((one) => one.studentId !== studentId.data)
    const texts: Record<string, string> = {}
    for (const id of textIdsOf(copy.entries)) {
      const textId = TextId.safeParse(id)
      const text = textId.success ? await office.openText(textId.data) : null
      if (text !== null) texts[id] = withoutNames(text, others)
    }
    return {
      ...copy,
      name,
      texts,
      statements: (await statementsOf(office, dayId.data, studentId.data)).map((text) => withoutNames(text, others)),
    }
  }
  const noCopy = (c: HouseContext) => problem(c, 404, 'There is no such day or student.')

  return [
    route('get', '/api/cases', {
      says: 'Cases of a day, or of all days: disputes, and requests to inspect or to amend, with their dates.',
      may: replayRoles,
      query: z.object({ dayId: DayId.optional() }),
      answer: z.array(Brief),
      go: async (c, { query: { dayId } }) => c.json(await office.cases(dayId ?? null)),
    }),
    route('get', '/api/cases/:caseId', {
      says: 'One case with its question, exhibits, statements, decisions and letters, their words opened.',
      may: replayRoles,
      answer: Brief,
      async go(c) {
        const caseId = CaseId.safeParse(c.req.param('caseId'))
        const found = caseId.success ? await office.case(caseId.data) : null
        return found ? c.json(found) : problem(c, 404, 'There is no such case.')
      },
    }),
    route('get', '/api/days/:dayId/hearing-copies/:studentId', {
      says: 'One student’s record and entries for a hearing: others as letters, nothing medical, with the ledger’s head.',
      may: replayRoles,
      answer: z.looseObject({ form: z.string() }),
      async go(c) {
        const copy = await copyOf(c)
        if (!copy) return noCopy(c)
        c.header('content-disposition', `attachment; filename="hearing-copy-${copy.dayId}.json"`)
        return c.json(copy)
      },
    }),
    route('get', '/api/days/:dayId/bundles/:studentId', {
      says: 'One HTML file that checks itself offline: the student’s proofs against the seal and of what came after, and the code that computes the score again.',
      may: replayRoles,
      async go(c) {
        const dayId = DayId.safeParse(c.req.param('dayId'))
        const studentId = StudentId.safeParse(c.req.param('studentId'))
        const viewer = await files('bundle/viewer.js')
        if (!viewer) return problem(c, 404, 'The viewer of bundles is not among the screens that were built.')
        const [student] = studentId.success ? await office.studentsOnDay([studentId.data]) : []
        const evidence = dayId.success && student ? await seals.bundleOf(dayId.data, student.studentId, student.name) : undefined
        if (!evidence) return problem(c, 404, 'There is no such day or student, or the day is not sealed.')
        const { value: record } = evidence.proof.record
        const page = bundlePage(`Musterbook: ${evidence.name}`, evidenceText(evidence), new TextDecoder().decode(viewer.bytes))
        return c.body(seals.signedFile(page), 200, {
          'content-type': 'text/html; charset=utf-8',
          'content-disposition': `attachment; filename="bundle-${record.dayId}-${record.bib ?? 'student'}.html"`,
        })
      },
    }),
    route('get', '/sheets/days/:dayId/hearing-copies/:studentId', {
      says: 'The same to print, the ledger’s head on every page.',
      may: replayRoles,
      query: Paper,
      async go(c, { query: { paper } }) {
        const copy = await copyOf(c)
        const day = copy && (await dayOf(copy.dayId))
        if (!copy || !day) return noCopy(c)
        const { name, texts, statements } = copy
        const staff = await staffNames()
        const pictures = await printedPictures(copy.record, office.evidence)
        const devices = new Map((await office.devices()).map((one) => [one.deviceId as string, one.name]))
        return print(
          c,
          day,
          { paper },
          `Hearing copy: ${name}`,
          HearingCopySheet({ copy, name, timeZone: day.timeZone, staff, devices, texts, statements, pictures }),
        )
      },
    }),
    route('get', '/sheets/cases/:caseId/letter', {
      says: 'The letter of a case, to print.',
      may: replayRoles,
      query: Paper,
      async go(c, { query: { paper } }) {
        const caseId = CaseId.safeParse(c.req.param('caseId'))
        const one = caseId.success ? await office.case(caseId.data) : null
        const day = one && (await dayOf(one.dayId))
        const record = one && ((await views.get(one.dayId, 'record', one.studentId))?.body as RecordView | undefined)
        if (!one || !day || !record) return problem(c, 404, 'There is no such case.')
        const [student] = await office.studentsOnDay([one.studentId])
        const { head } = await headOf(one.dayId)
        const name = student?.name ?? one.studentId
        const site = (await office.site())?.name ?? ''
        return print(
          c,
          day,
          { paper },
          `Letter to ${name}`,
          CaseLetter({ one, name, site, record, head, timeZone: day.timeZone, staff: await staffNames() }),
        )
      },
    }),
  ]
}

/** People type names into reasons: whoever else is on the roster is 'another student' there. */
function withoutNames(text: string, others: readonly { name: string; familyName: string; givenName: string }[]): string {
  const names = others.flatMap(({ name, familyName, givenName }) => [name, familyName, givenName]).filter((name) => name.length > 1)
  const sought = names.sort((one, other) => other.length - one.length).map((name) => name.replaceAll(/[.*+?^${}()|[\]\\]/g, '\\$&'))
  return sought.length === 0 ? text : text.replaceAll(new RegExp(`(?<!\\p{L})(?:${sought.join('|')})(?!\\p{L})`, 'giu'), 'another student')
}
