import { z } from 'zod'
import { DayId } from '@musterbook/vocabulary/ids'
import { problem } from '../http/problem.ts'
import { route, type Route } from '../http/route.ts'
import type { Tools } from '../tools.ts'
import { replayRoles } from '../view-roles.ts'

/** A sealed day's signature, and what one student can hold in hand against it. */
export const sealRoutes = ({ seals }: Tools): Route[] => [
  route('get', '/api/days/:dayId/seal', {
    says: 'The signed seal of a day, and the fingerprint of the key to compare with the printed sheet.',
    may: replayRoles,
    answer: z.object({ fingerprint: z.string(), seal: z.looseObject({ publicKey: z.string(), signature: z.string() }) }),
    async go(c) {
      const dayId = DayId.safeParse(c.req.param('dayId'))
      const seal = dayId.success ? await seals.sealOf(dayId.data) : undefined
      return seal ? c.json({ fingerprint: seals.fingerprint, seal }) : problem(c, 404, 'There is no such day, or it is not sealed.')
    },
  }),
  route('get', '/api/days/:dayId/proofs/:studentId', {
    says: 'One student’s record and events with their way up to the seal: verifies offline, without anybody else’s data.',
    may: replayRoles,
    answer: z.looseObject({ form: z.string() }),
    async go(c) {
      const dayId = DayId.safeParse(c.req.param('dayId'))
      const proof = dayId.success ? await seals.proofOf(dayId.data, c.req.param('studentId')!) : undefined
      if (!proof) return problem(c, 404, 'There is no such day or student, or the day is not sealed.')
      c.header('content-disposition', `attachment; filename="proof-${dayId.data}.json"`)
      return c.json(proof)
    },
  }),
]
