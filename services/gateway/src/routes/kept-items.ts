import { z } from 'zod'
import { digest } from '@musterbook/evidence/canonical'
import { UnreadBecause } from '@musterbook/vocabulary/access'
import { observations, type ActName } from '@musterbook/vocabulary/act-table'
import { acts } from '@musterbook/vocabulary/acts'
import type { Command } from '@musterbook/vocabulary/command'
import { happenedAt, type By, type Envelope } from '@musterbook/vocabulary/envelope'
import { CommandId, DeviceId, PersonId, type DayId } from '@musterbook/vocabulary/ids'
import { KeptItem, type KeptBy } from '@musterbook/vocabulary/kept-act'
import type { Device } from '@musterbook/vocabulary/office'
import { usualDeviceHours } from '@musterbook/vocabulary/rules'
import { bodyOverHttp } from '../act-bodies.ts'
import { tellDay } from '../http/answer.ts'
import { problem } from '../http/problem.ts'
import { route, type HouseContext, type Route } from '../http/route.ts'
import { rolesOf } from '../http/who.ts'
import type { Tools } from '../tools.ts'
import { withWhatTheGatewayKnows } from './acts.ts'
import { takeReading } from './readings.ts'

const KeptAnswer = z.object({ kept: z.object({ number: z.int(), because: UnreadBecause }) })
const ItemShown = z.object({
  number: z.int(),
  deviceId: DeviceId,
  device: z.string(),
  personId: PersonId.nullable(),
  because: UnreadBecause,
  act: z.string().nullable(),
  keptAt: z.int(),
  settledBy: PersonId.nullable(),
})
export type ItemShown = z.infer<typeof ItemShown>

/** What became of one carried item. */
const Carried = z.enum(['recorded', 'knownAlready', 'refused', 'kept'])
type Carried = z.infer<typeof Carried>

/** A photo does not travel here; an act with every word that a person may type does. */
const limitBytes = 256 * 1024

/** What devices kept while they were out of contact: told to its day by whoever acted, or kept whole and shown. Nothing is turned away. */
export const keptItemRoutes = (tools: Tools): Route[] => [
  route('post', '/api/kept-items', {
    says: 'One item that a device kept. It is told to its day as by whoever acted then; what cannot be read is kept whole, under a number.',
    may: 'enrolled',
    onLocked: true,
    bytes: true,
    limitBytes,
    answer: KeptAnswer,
    status: 201,
    go: (c, { body }) => told(c, c.var.who.device!, new TextDecoder().decode(body), tools),
  }),
  route('post', '/api/carried-items', {
    says: 'What a device kept and will not send itself, brought in by hand from a file or codes. Each is told as that device’s own; what was told already does nothing.',
    may: ['greeter', 'supervisor', 'coordinator'],
    body: z.strictObject({
      fromDeviceId: DeviceId,
      sha256: z.string().regex(/^[0-9a-f]{64}$/),
      items: z.array(z.string().max(limitBytes)).min(1).max(5_000),
    }),
    limitBytes: 8 * limitBytes,
    answer: z.object({ items: z.array(Carried) }),
    status: 201,
    go: (c, { body }) => carried(c, body, tools),
  }),
  route('get', '/api/kept-items', {
    says: 'What devices kept and the site could not read, oldest first.',
    may: ['supervisor', 'coordinator'],
    answer: z.array(ItemShown),
    async go(c) {
      const names = new Map((await tools.office.devices()).map(({ deviceId, name }) => [deviceId, name]))
      const items = await tools.kept.all()
      return c.json(items.map(({ textId: _, ...item }) => ({ ...item, device: names.get(item.deviceId) ?? item.deviceId })))
    },
  }),
  route('get', '/api/kept-items/own', {
    says: 'Numbers of this device’s items that somebody has settled: it may let go of them.',
    may: 'enrolled',
    onLocked: true,
    answer: z.object({ settled: z.array(z.int()) }),
    async go(c) {
      const own = (await tools.kept.all()).filter(({ deviceId }) => deviceId === c.var.who.device!.deviceId)
      return c.json({ settled: own.filter(({ settledBy }) => settledBy !== null).map(({ number }) => number) })
    },
  }),
  route('get', '/api/kept-items/:number', {
    says: 'One such item, whole, as the device sent it.',
    may: ['supervisor', 'coordinator'],
    answer: z.object({ text: z.string() }),
    async go(c) {
      const item = (await tools.kept.all()).find(({ number }) => String(number) === c.req.param('number'))
      const text = item && (await tools.office.openText(item.textId))
      return text ? c.json({ text }) : problem(c, 404, 'There is no such item.')
    },
  }),
  route('post', '/api/kept-items/:number/settlement', {
    says: 'Somebody has read it and done what was to be done: the device lets go of its own.',
    may: ['supervisor', 'coordinator'],
    body: z.strictObject({}),
    answer: z.object({ settled: z.boolean() }),
    status: 201,
    async go(c) {
      const { person, device } = c.var.who
      const isThere = await tools.kept.settle(Number(c.req.param('number')), { personId: person!.personId, deviceId: device!.deviceId })
      return isThere ? c.json({ settled: true }, 201) : problem(c, 404, 'There is no such item.')
    },
  }),
]

/** `device`: whose item it is, which brings it itself or has it carried. */
async function told(c: HouseContext, device: Device, text: string, tools: Tools): Promise<Response> {
  const raw = jsonOf(text)
  const keep = async (because: UnreadBecause) => {
    const known = partly(raw)
    const number = await tools.kept.keep({ text, because, deviceId: device.deviceId, ...known })
    return c.json({ kept: { number, because } } satisfies z.infer<typeof KeptAnswer>, 201)
  }
  const read = KeptItem.safeParse(raw)
  if (!read.success) return keep('notUnderstood')
  const item = read.data

  if (item.kind === 'signOn') {
    if (!(await wasHere(device, item.personId, item.since, item.dayId, tools))) return keep('notSignedOnThere')
    await tools.kept.signedOnOutOfContact(device.deviceId, item.personId, item.since)
    return c.json({ recorded: {} }, 201)
  }
  const who = await whoActed(device, item.by, item.envelope, item.kind === 'act' ? item.dayId : null, tools)
  if (typeof who === 'string') return keep(who)
  if (item.kind === 'reading') {
    if (!who.roles.some((role) => role === 'safety' || role === 'supervisor')) return keep('outsideRole')
    const answer = await takeReading(c, item, who, tools)
    return isNoAnswer(answer.status) ? keep('notUnderstood') : answer
  }

  if (!acts[item.act].roles.some((role) => who.roles.includes(role))) return keep('outsideRole')
  if (!mayHaveHappened(item.act, item.envelope)) return keep('notDecidedThere')
  if (item.act === 'openDay') return keep('notUnderstood')
  const body = bodyOverHttp(item.act).safeParse(item.body)
  if (!body.success) return keep('notUnderstood')
  const full = await withWhatTheGatewayKnows(item.act, item.dayId, item.envelope.commandId, body.data, tools)
  const command = { act: item.act, dayId: item.dayId, by: who, envelope: item.envelope, body: full } as Command
  const answer = await tellDay(c, command, tools)
  if (!isNoAnswer(answer.status)) return answer
  const said = (await answer.clone().json()) as { refused?: unknown; commandIdReused?: true }
  if (said.refused) return answer
  return keep(said.commandIdReused ? 'commandIdReused' : 'unknownDay')
}

async function carried(
  c: HouseContext,
  { fromDeviceId, sha256, items }: { fromDeviceId: DeviceId; sha256: string; items: string[] },
  tools: Tools,
): Promise<Response> {
  const from = (await tools.office.devices()).find((device) => device.deviceId === fromDeviceId)
  if (!from) return problem(c, 404, 'This site has no such device: its items cannot be told as its own.')
  if (digest({ fromDeviceId, items }) !== sha256)
    return problem(c, 422, 'The items are not as they left the device. Take the file or the codes again.')
  const { person, device } = c.var.who
  const who = { personId: person!.personId, deviceId: device!.deviceId }
  await tools.access.tell({ type: 'itemsCarried', ...who, fromDeviceId, items: items.length, sha256 })
  const answers: Carried[] = []
  for (const item of items) {
    const answer = await told(c, from, item, tools)
    // What is not known to be in the record is brought in again, whole: the same ids do no harm.
    if (answer.status >= 500) return answer
    const said = (await answer.json()) as { kept?: object; refused?: object; toldTwice?: boolean }
    answers.push(said.kept ? 'kept' : said.refused ? 'refused' : said.toldTwice ? 'knownAlready' : 'recorded')
  }
  return c.json({ items: answers }, 201)
}

/** The day has neither taken nor refused it. */
const isNoAnswer = (status: number): boolean => status === 404 || status === 409 || status === 422

/** An observation has happened; a permission only where the device itself gave it. */
const mayHaveHappened = (act: ActName, { decidedOnDevice }: Envelope): boolean =>
  decidedOnDevice || (observations as readonly ActName[]).includes(act)

/** Proven by the device's cookie and by the record of who has signed on there; nobody acts later in the name of who never stood at it. */
async function whoActed(
  device: Device,
  by: KeptBy,
  envelope: Envelope,
  dayId: DayId | null,
  tools: Tools,
): Promise<By | 'notSignedOnThere'> {
  if (by.personId === null) return { personId: null, roles: rolesOf(device, null), deviceId: device.deviceId, countersigned: null }
  const person = await tools.office.person(by.personId)
  const isKnown = person && !person.left && (await wasHere(device, by.personId, happenedAt(envelope), dayId, tools))
  return isKnown ? { personId: by.personId, roles: person.roles, deviceId: device.deviceId, countersigned: null } : 'notSignedOnThere'
}

async function wasHere(device: Device, personId: PersonId, at: number, dayId: DayId | null, tools: Tools): Promise<boolean> {
  const hours = (dayId && (await tools.rosterOf(dayId))?.rules.deviceHours) ?? usualDeviceHours
  // A clock that runs ahead takes nobody's right away.
  const since = Math.min(at, tools.clock()) - hours * 3_600_000
  return tools.kept.hasSignedOn(device.deviceId, personId, since)
}

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return undefined
  }
}

/** What can be read of an item that cannot be read. */
function partly(raw: unknown): { commandId: CommandId | null; personId: PersonId | null; act: string | null } {
  const known = z
    .looseObject({
      act: z.string().max(60).nullable().catch(null),
      by: z.looseObject({ personId: PersonId.nullable().catch(null) }).catch({ personId: null }),
      envelope: z.looseObject({ commandId: CommandId.nullable().catch(null) }).catch({ commandId: null }),
    })
    .safeParse(raw)
  if (!known.success) return { commandId: null, personId: null, act: null }
  return { commandId: known.data.envelope.commandId, personId: known.data.by.personId, act: known.data.act }
}
