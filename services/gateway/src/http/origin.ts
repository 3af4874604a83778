import { createMiddleware } from 'hono/factory'
import { problem } from './problem.ts'

const reads = new Set(['GET', 'HEAD', 'OPTIONS'])

/**
 * A write comes from our own screens or from a program, never from another site's page in the same browser.
 * Browsers say where a request was made; a program that sends neither header has no cookies of ours to misuse.
 */
export const writesFromHereOnly = createMiddleware(async (c, next) => {
  if (reads.has(c.req.method)) return next()

  const site = c.req.header('sec-fetch-site')
  if (site !== undefined && site !== 'same-origin' && site !== 'none')
    return problem(c, 403, 'Writes are taken from this server’s own pages only.')
  const origin = c.req.header('origin')
  if (origin !== undefined && !sameHost(origin, c.req.header('host') ?? new URL(c.req.url).host))
    return problem(c, 403, 'Writes are taken from this server’s own pages only.')
  return next()
})

function sameHost(origin: string, host: string): boolean {
  try {
    return new URL(origin).host === host
  } catch {
    return false
  }
}
