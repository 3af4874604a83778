import { z } from 'zod'
import { PinnedEmergencyCard } from '@musterbook/vocabulary/emergency-card'
import { Envelope } from '@musterbook/vocabulary/envelope'
import { ClassId, DeviceId, PersonId } from '@musterbook/vocabulary/ids'
import { officeActs, type OfficeActName, type RosterField, type Told } from '@musterbook/vocabulary/office'
import { RuleKind } from '@musterbook/vocabulary/office-events'
import type { Role } from '@musterbook/vocabulary/people'
import { officeSaid } from '../http/office-status.ts'
import { problem } from '../http/problem.ts'
import { type HouseContext, route, type Route } from '../http/route.ts'
import { Countersign, secondPerson } from '../second-person.ts'
import { byOf, ownEnvelope } from '../told.ts'
import type { Tools } from '../tools.ts'

const lead: readonly Role[] = ['supervisor', 'coordinator']
const readers: readonly Role[] = [...lead, 'auditor']
const rosterLimitBytes = 5 * 1024 * 1024

/** As `RosterOptions`, in an address. `columns`: a JSON object of our field to the file's header. */
const RosterQuery = z.object({
  dateOrder: z.enum(['dmy', 'mdy', 'ymd']),
  delimiter: z.enum([',', ';', 'tab', '|']).optional(),
  encoding: z.enum(['utf-8', 'utf-16le', 'utf-16be', 'windows-1252']).optional(),
  className: z.string().max(60).optional(),
  columns: z
    .string()
    .max(2000)
    .transform((text, context): Partial<Record<RosterField, string>> => {
      const parsed = Columns.safeParse(jsonOr(text))
      if (parsed.success) return parsed.data as Partial<Record<RosterField, string>>
      context.issues.push({ code: 'custom', message: 'a JSON object of field to header', input: text })
      return z.NEVER
    })
    .optional(),
})
const Columns = z.partialRecord(
  z.enum(['code', 'familyName', 'givenName', 'birthDate', 'normSex', 'class', 'language']),
  z.string().max(120),
)

export const officeRoutes = (tools: Tools): Route[] => [
  ...(Object.keys(officeActs) as OfficeActName[]).map((name) => officeAct(name, tools)),
  ...listRoutes(tools),
  route('post', '/api/office/roster-previews', {
    says: 'What would become of every row of a roster file. Nothing is saved by looking. The body is the file itself.',
    may: officeActs.acceptRoster.roles,
    query: RosterQuery,
    bytes: true,
    limitBytes: rosterLimitBytes,
    answer: z.looseObject({ previewId: z.string() }),
    status: 201,
    async go(c, { body, query: { dateOrder, delimiter, encoding, className, columns } }) {
      const options = {
        dateOrder,
        ...(delimiter && { delimiter: delimiter === 'tab' ? ('\t' as const) : delimiter }),
        ...(encoding && { encoding }),
        ...(className && { className }),
        ...(columns && { columns }),
      }
      return officeSaid(c, await tools.office.previewRoster(body, options))
    },
  }),
  route('post', '/api/office/rule-previews', {
    says: 'What a file of a rule would change of what is in force, field by field. Nothing is saved by looking. The body is the file itself.',
    may: officeActs.proposeAdoption.roles,
    bytes: true,
    answer: z.looseObject({ differs: z.array(z.unknown()) }),
    status: 201,
    go: async (c, { body }) => officeSaid(c, await tools.office.previewRuleFile(new TextDecoder().decode(body))),
  }),
]

/** Every act of the office's table at its noun, as the day's acts are. */
function officeAct(name: OfficeActName, tools: Tools): Route {
  const { noun, body, roles, countersign } = officeActs[name]
  return route('post', `/api/office/${noun}`, {
    says: `Asks the office: ${name}.`,
    may: roles,
    body: z.strictObject({ envelope: Envelope.optional(), body, ...(countersign && { countersign: Countersign.optional() }) }),
    answer: z.looseObject({}),
    status: 201,
    async go(c, { body: asked }) {
      const second = await secondPerson(c, tools, (asked as { countersign?: Countersign }).countersign)
      if ('no' in second) return second.no
      const told: Told = { by: byOf(c, second.countersigned), envelope: asked.envelope ?? ownEnvelope(tools) }
      const said = await ask(tools, name, asked.body, told)
      if (!('refused' in said)) endSessions(name, asked.body, tools)
      return officeSaid(c, said)
    },
  })
}

/** The table names the office's methods, and each body was parsed by its own schema. */
function ask({ office }: Tools, name: OfficeActName, body: unknown, told: Told): Promise<object> {
  const method = office[name] as (body: unknown, told: Told) => Promise<object>
  return method.call(office, body, told)
}

/** Who left, or works elsewhere, sees nothing more from that moment on. */
function endSessions(name: OfficeActName, body: unknown, { sessions }: Tools): void {
  if (name === 'letPersonGo' || name === 'changeRoles' || name === 'setPin') sessions.revoke(z.object({ personId: PersonId }).parse(body))
  if (name === 'revokeDevice' || name === 'lockDevice') sessions.revoke(z.object({ deviceId: DeviceId }).parse(body))
}

function listRoutes({ office, access }: Tools): Route[] {
  const list = (path: string, says: string, may: readonly Role[], read: () => Promise<unknown>) =>
    route('get', `/api/office/${path}`, { says, may, answer: z.unknown(), go: async (c) => c.json(await read()) })

  return [
    list('site', 'The site.', [...readers, 'greeter', 'screener', 'station', 'safety', 'kiosk'], () => office.site()),
    list('people', 'People with their roles and qualifications.', readers, () => office.people()),
    list('devices', 'Devices and their state.', readers, () => office.devices()),
    list('classes', 'Classes.', readers, () => office.classes()),
    list('venue', 'Zones and stations.', [...readers, 'safety', 'station'], () => office.venue()),
    list('equipment', 'The equipment register.', [...readers, 'safety', 'station', 'screener'], () => office.equipment()),
    list('rules', 'Rules that are offered, proposed and in force.', readers, () => office.rules()),
    route('get', '/api/office/rule-files', {
      says: 'A rule as it is shown, as a file with its version, who adopted it and a checksum.',
      may: readers,
      query: z.object({ kind: RuleKind, id: z.string().min(1).max(80), proposal: z.string().max(96).optional() }),
      async go(c, { query: { kind, id, proposal } }) {
        const file = await office.ruleFile(kind, id, proposal ?? null)
        return file ? download(c, file, 'application/json') : problem(c, 404, 'There is no such rule.')
      },
    }),
    route('get', '/api/office/classes/:classId/roster.csv', {
      says: 'A class as a roster file with its version and a checksum.',
      may: officeActs.acceptRoster.roles,
      async go(c) {
        const classId = ClassId.safeParse(c.req.param('classId'))
        const file = classId.success ? await office.rosterFile(classId.data) : null
        return file ? download(c, file, 'text/csv; charset=utf-8; header=present') : problem(c, 404, 'There is no such class.')
      },
    }),
    list('access', 'Who signed on where, what was refused for want of a role, who opened health data.', ['coordinator', 'auditor'], () =>
      access.read(),
    ),
    route('get', '/api/emergency-card', {
      says: 'The emergency card in force at this site now; a day that was opened before it keeps its own. `card` is null where none was adopted.',
      may: 'enrolled',
      answer: z.object({ card: PinnedEmergencyCard.nullable() }),
      go: async (c) => c.json({ card: await office.emergencyCard() }),
    }),
    route('get', '/api/office/classes/:classId/students', {
      says: 'Students of a class, as the office registers them.',
      may: lead,
      answer: z.array(z.unknown()),
      async go(c) {
        const classId = ClassId.safeParse(c.req.param('classId'))
        return classId.success ? c.json(await office.studentsOfClass(classId.data)) : problem(c, 404, 'There is no such class.')
      },
    }),
  ]
}

const download = (c: HouseContext, file: { name: string; text: string }, type: string): Response =>
  c.body(file.text, 200, { 'content-type': type, 'content-disposition': `attachment; filename="${file.name.replaceAll(/[^\w.-]/g, '-')}"` })

function jsonOr(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return undefined
  }
}
