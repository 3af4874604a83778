import { z } from 'zod'
import { StudyMade } from '@musterbook/vocabulary/access'
import { problem } from '../http/problem.ts'
import { route, type Route } from '../http/route.ts'
import type { Tools } from '../tools.ts'
import { replayRoles } from '../view-roles.ts'

/** The study itself is worked out where it is looked at, from entries that whoever asks may read: here it is only written down, once. */
export const studyRoutes = ({ access }: Tools): Route[] => [
  route('post', '/api/studies', {
    says: 'Writes into the access log that somebody studies whole days under other rules. Nothing else is recorded.',
    may: replayRoles,
    body: StudyMade.pick({ dayIds: true, rules: true }),
    answer: z.object({ written: z.literal(true) }),
    status: 201,
    async go(c, { body }) {
      const { person, device } = c.var.who
      if (!person || !device) return problem(c, 401, 'Nobody is signed on.')
      await access.tell({ type: 'studyMade', personId: person.personId, deviceId: device.deviceId, ...body })
      return c.json({ written: true }, 201)
    },
  }),
]
