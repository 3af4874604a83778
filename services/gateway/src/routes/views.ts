import { z } from 'zod'
import { DayId } from '@musterbook/vocabulary/ids'
import type { Role } from '@musterbook/vocabulary/people'
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
  return viewNames.flatMap((name) => [
    readRoute(name, tools),
    liveRoute(name, rows),
    // Whoever steps back through a day sees no more of it than they saw on the day.
    ...(mayView[name].includes('supervisor') || mayView[name] === 'enrolled' ? [stepRoute(name, tools)] : []),
  ])
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

function stepRoute(view: ViewName, { replay }: Tools): Route {
  return route('get', `/api/days/:dayId/at/:version/views/${view}/:key`, {
    says: `The ${view} view as it stood at a version of the day.`,
    may: stepRoles,
    answer: ViewAnswer,
    async go(c) {
      const dayId = DayId.safeParse(c.req.param('dayId'))
      const version = z.coerce.number().int().positive().max(Number.MAX_SAFE_INTEGER).safeParse(c.req.param('version'))
      const row = dayId.success && version.success ? await replay.viewAt(dayId.data, version.data, view, c.req.param('key')!) : undefined
      return row ? c.json(row) : problem(c, 404, 'The day has no such view at that version.')
    },
  })
}

export const stepRoles: readonly Role[] = ['supervisor', 'coordinator', 'auditor']
