import { z } from 'zod'
import { CaseId } from '@musterbook/vocabulary/case'
import { DayId } from '@musterbook/vocabulary/ids'
import { problem } from '../http/problem.ts'
import { route, type Route } from '../http/route.ts'
import type { Tools } from '../tools.ts'
import { stepRoles } from './views.ts'

const Brief = z.looseObject({ caseId: z.string(), state: z.string() })

/** Cases, to read. What is done about one stands among the office's acts: `POST /api/office/cases` and its neighbours. */
export const caseRoutes = ({ office }: Tools): Route[] => [
  route('get', '/api/cases', {
    says: 'Cases of a day, or of all days: disputes, and requests to inspect or to amend, with their dates.',
    may: stepRoles,
    query: z.object({ dayId: DayId.optional() }),
    answer: z.array(Brief),
    go: async (c, { query: { dayId } }) => c.json(await office.cases(dayId ?? null)),
  }),
  route('get', '/api/cases/:caseId', {
    says: 'One case with its question, exhibits, statements, decisions and letters, their words opened.',
    may: stepRoles,
    answer: Brief,
    async go(c) {
      const caseId = CaseId.safeParse(c.req.param('caseId'))
      const found = caseId.success ? await office.case(caseId.data) : null
      return found ? c.json(found) : problem(c, 404, 'There is no such case.')
    },
  }),
]
