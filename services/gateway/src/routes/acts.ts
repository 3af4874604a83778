import { z } from 'zod'
import { acts } from '@musterbook/vocabulary/acts'
import type { Command } from '@musterbook/vocabulary/command'
import { Envelope } from '@musterbook/vocabulary/envelope'
import type { InboxView } from '@musterbook/day/views/inbox'
import { DayId, PersonId, StationId, StudentId } from '@musterbook/vocabulary/ids'
import { bodyOverHttp, openActs, type OpenAct } from '../act-bodies.ts'
import { RecordedAnswer, tellDay } from '../http/answer.ts'
import { problem } from '../http/problem.ts'
import { route, type Route } from '../http/route.ts'
import { Countersign, secondPerson } from '../second-person.ts'
import type { Tools } from '../tools.ts'
import { byOf } from '../told.ts'

/** Every act of the table at its noun, all by one rule: whose device, whose PIN, which words to seal; then the day decides. */
export const actRoutes = (tools: Tools): Route[] => openActs.map((name) => actRoute(name, tools))

function actRoute(name: OpenAct, tools: Tools): Route {
  const { noun, roles, countersign } = acts[name]
  const told = z.strictObject({
    envelope: Envelope,
    body: bodyOverHttp(name),
    ...(countersign !== 'never' && { countersign: Countersign.optional() }),
  })

  return route('post', `/api/days/:dayId/${noun}`, {
    says: `Tells the day: ${name}.`,
    may: roles,
    // A board on the wall has no role, and somebody in front of it may need a person.
    ...(name === 'callStaff' && { alsoOn: ['board'] }),
    body: told,
    answer: RecordedAnswer,
    status: 201,
    async go(c, { body: { envelope, body, ...rest } }) {
      const dayId = DayId.safeParse(c.req.param('dayId'))
      if (!dayId.success) return problem(c, 404, 'There is no such day.')
      const second = await secondPerson(c, tools, (rest as { countersign?: Countersign }).countersign)
      if ('no' in second) return second.no

      const full = await withWhatTheGatewayKnows(name, dayId.data, envelope.commandId, body, tools)
      const command = { act: name, dayId: dayId.data, by: byOf(c, second.countersigned), envelope, body: full } as Command
      return tellDay(c, command, tools)
    },
  })
}

/** Seals what was typed and fills in what only the office knows. */
export async function withWhatTheGatewayKnows(
  act: OpenAct,
  dayId: DayId,
  commandId: string,
  body: Record<string, unknown>,
  { office, sealing, rosterOf, views }: Tools,
): Promise<Record<string, unknown>> {
  const full = { ...body }
  for (const field of acts[act].texts) {
    const text = body[field]
    if (typeof text === 'string')
      full[field] = await sealing.seal({ act, dayId, commandId, field, text, studentId: await studentOf(body, dayId, views) })
  }
  if (act === 'assignStaff') {
    const date = (await rosterOf(dayId))?.facts.date
    const stations = date === undefined ? [] : await office.qualifiedFor(PersonId.parse(body['personId']), date)
    full['qualified'] = stations.includes(StationId.parse(body['stationId']))
  }
  return full
}

/** Of whom the words are, so that they are sealed for that student. A ruling names the review alone; the inbox knows whom that is about. */
async function studentOf(body: Record<string, unknown>, dayId: DayId, views: Tools['views']): Promise<StudentId | null> {
  const named = StudentId.safeParse(body['studentId'])
  if (named.success) return named.data
  if (typeof body['reviewId'] !== 'string') return null
  const inbox = (await views.get(dayId, 'inbox', 'all'))?.body as InboxView | undefined
  return (inbox?.items?.find((item) => item.itemId === body['reviewId'])?.studentId as StudentId | undefined) ?? null
}
