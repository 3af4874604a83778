import type { Context } from 'hono'
import { z } from 'zod'

/** What every "no" of the house looks like over HTTP: a problem document of RFC 9457. */
export const Problem = z.looseObject({
  type: z.string(),
  title: z.string(),
  status: z.int(),
  detail: z.string(),
})
export type Problem = z.infer<typeof Problem>

export const problemType = 'application/problem+json'

/** A field that is not as its schema says: where it lies and what was expected, never the value that was sent. */
export interface FailingField {
  path: string
  says: string
}

const titles: Record<number, string> = {
  400: 'This is not JSON',
  401: 'Sign on first',
  403: 'Outside your role',
  404: 'There is no such thing here',
  405: 'Not done this way',
  409: 'It conflicts with what stands',
  413: 'Too large',
  415: 'JSON only',
  422: 'Some fields are not as they should be',
  423: 'Blocked now',
  429: 'Too many attempts',
  500: 'The server broke a promise',
  503: 'Not ready',
}

export function problem(c: Context, status: number, detail: string, more: Record<string, unknown> = {}): Response {
  const title = titles[status] ?? 'Not possible'
  const headers = { 'content-type': problemType, 'cache-control': 'no-store' }
  return c.body(JSON.stringify({ type: 'about:blank', title, status, detail, ...more }), { status: status as 400, headers })
}

/** Names the failing fields; never echoes values, which may be anything. */
export function unlikeSchema(c: Context, error: z.ZodError): Response {
  const fields: FailingField[] = error.issues.slice(0, 50).map((issue) => ({ path: issue.path.map(String).join('.'), says: issue.message }))
  return problem(c, 422, `${fields.length} ${fields.length === 1 ? 'field is' : 'fields are'} not as the schema says.`, { fields })
}
