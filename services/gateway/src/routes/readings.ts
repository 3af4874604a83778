import { z } from 'zod'
import { type By, Envelope } from '@musterbook/vocabulary/envelope'
import { TakeReading } from '@musterbook/vocabulary/site'
import { commandIdReused, notKnown } from '../http/answer.ts'
import { problem } from '../http/problem.ts'
import { route, type HouseContext, type Route } from '../http/route.ts'
import { byOf } from '../told.ts'
import type { Tools } from '../tools.ts'

const Receipt = z.object({
  siteVersion: z.int(),
  wbgtTenths: z.int().nullable(),
  unit: z.enum(['degC', 'degF']),
  band: z.string(),
  usable: z.boolean(),
  questions: z.array(z.string()),
  calledHold: z.boolean(),
})

export const readingRoutes = (tools: Tools): Route[] => [
  route('post', '/api/sites/:siteId/readings', {
    says: 'A heat reading. Never refused: what is odd about one is asked and kept. “Received”; only a day says “in force”.',
    may: ['safety', 'supervisor'],
    body: z.strictObject({ envelope: Envelope, body: TakeReading }),
    answer: Receipt,
    status: 201,
    go: (c, { body }) => takeReading(c, { ...body, siteId: c.req.param('siteId')! }, byOf(c), tools),
  }),
]

/** Now, or kept on a device while it was out of contact. */
export async function takeReading(
  c: HouseContext,
  { siteId, envelope, body }: { siteId: string; envelope: Envelope; body: TakeReading },
  by: By,
  { weather, office, onBroken }: Pick<Tools, 'weather' | 'office' | 'onBroken'>,
): Promise<Response> {
  const site = await office.site()
  if (site?.siteId !== siteId) return problem(c, 404, 'There is no such site here.')
  if (body.siteId !== site.siteId)
    return problem(c, 422, 'The reading names another site.', { fields: [{ path: 'body.siteId', says: 'another site' }] })
  try {
    return c.json(await weather.take(body, by, envelope), 201)
  } catch (error) {
    if ((error as Error).name === 'CommandIdReused') return commandIdReused(c)
    return notKnown(c, error, onBroken)
  }
}
