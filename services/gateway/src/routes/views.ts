import { z } from 'zod'
import { problem } from '../http/problem.ts'
import { route, type Route } from '../http/route.ts'
import { LiveRows } from '../live/live-rows.ts'
import type { Tools } from '../tools.ts'
import { mayView, viewNames, type ViewName } from '../view-roles.ts'

const ViewAnswer = z.object({ version: z.int(), body: z.unknown() })

export function viewRoutes(tools: Tools): Route[] {
  const { views, sessions, onBroken } = tools
  const rows = new LiveRows({
    views,
    onBeat: () => sessions.sweep(),
    onBroken: (error, { view }) => onBroken(error, `GET /api/days/:dayId/live/${view}/:key`),
  })
  return viewNames.flatMap((name) => [readRoute(name, tools), liveRoute(name, rows)])
}

function readRoute(view: ViewName, { views }: Tools): Route {
  return route('get', `/api/days/:dayId/views/${view}/:key`, {
    says: `The ${view} view of a day, at least as new as \`atLeast\`.`,
    may: mayView[view],
    query: z.object({ atLeast: z.coerce.number().int().nonnegative().max(Number.MAX_SAFE_INTEGER).optional() }),
    answer: ViewAnswer,
    async go(c, { query: { atLeast } }) {
      const row = await views.get(c.req.param('dayId')!, view, c.req.param('key')!, atLeast)
      return row ? c.json(row) : problem(c, 404, 'There is no such view of this day.')
    },
  })
}

function liveRoute(view: ViewName, rows: LiveRows): Route {
  return route('get', `/api/days/:dayId/live/${view}/:key`, {
    says: `The ${view} view, newest at once and after each change, as server-sent events. \`id\` is the day’s version; a reader resumes with Last-Event-ID. A \`beat\` comes while nothing changes. With \`differences=patch\` what changed comes as a \`difference\`: a JSON Patch (RFC 6902) of \`body\` as it was \`from\` a version.`,
    may: mayView[view],
    query: z.object({ differences: z.literal('patch').optional() }),
    go: (c, { query }) => {
      const joining = {
        seen: Number(c.req.header('last-event-id') ?? 0) || 0,
        differences: query.differences !== undefined,
        ended: c.var.who.ended,
      }
      const stream = rows.join({ dayId: c.req.param('dayId')!, view, key: c.req.param('key')! }, joining)
      return c.body(stream, 200, eventStream)
    },
  })
}

const eventStream = {
  'content-type': 'text/event-stream',
  'cache-control': 'no-store',
  'x-accel-buffering': 'no',
}
