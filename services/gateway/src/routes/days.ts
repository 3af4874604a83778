import { z } from 'zod'
import { acts } from '@musterbook/vocabulary/acts'
import { ComposeDay } from '@musterbook/vocabulary/office'
import { refusal } from '@musterbook/vocabulary/refusals'
import { answerOver, RecordedAnswer, tellDay } from '../http/answer.ts'
import { problem } from '../http/problem.ts'
import { route, type Route } from '../http/route.ts'
import { openRetests } from '../open-retests.ts'
import { byOf, ownEnvelope } from '../told.ts'
import type { Tools } from '../tools.ts'

export const dayRoutes = (tools: Tools): Route[] => [
  route('get', '/api/days', {
    says: 'Every day of this site, in short.',
    may: 'enrolled',
    answer: z.array(z.object({ version: z.int(), body: z.unknown() })),
    go: async (c) => c.json(await tools.views.days()),
  }),
  route('get', '/api/retests', {
    says: 'Retests that were granted, have not ended, and that no later day took up.',
    may: acts.openDay.roles,
    answer: z.array(z.looseObject({ entitlementId: z.string() })),
    go: async (c) => c.json(await openRetests(tools)),
  }),
  route('post', '/api/days', {
    says: 'Opens a day under the rules in force, which it pins. What is missing is named whole.',
    may: acts.openDay.roles,
    body: ComposeDay,
    answer: RecordedAnswer,
    status: 201,
    async go(c, { body }) {
      // A clock that does not tell the real time makes no real record.
      if (tools.rehearsalOnly && !body.rehearsal) return answerOver(c, { refused: refusal('notRehearsal'), version: 0, toldTwice: false })

      const composed = await tools.office.composeDay(body)
      if ('missing' in composed) return problem(c, 422, composed.missing.join(' '), { missing: composed.missing })
      const { dayId } = composed.openDay.facts
      const envelope = ownEnvelope(tools)
      return tellDay(c, { act: 'openDay', dayId, by: byOf(c), envelope, body: composed.openDay }, tools)
    },
  }),
]
