import { streamSSE } from 'hono/streaming'
import { z } from 'zod'
import { DayId } from '@musterbook/vocabulary/ids'
import type { Role } from '@musterbook/vocabulary/people'
import type { View } from '@musterbook/vocabulary/ports'
import { paced } from '../http/paced.ts'
import { problem } from '../http/problem.ts'
import { isUrgent } from '../http/urgency.ts'
import { route, type HouseContext, type Route } from '../http/route.ts'
import type { Tools } from '../tools.ts'
import { mayView, viewNames, type ViewName } from '../view-roles.ts'

const ViewAnswer = z.object({ version: z.int(), body: z.unknown() })

/** Screens refresh twice a second at most; what stops people does not wait. */
const gapMs = 500
/** A stream that is silent for longer has lost its server. */
const beatMs = 10_000

export const viewRoutes = (tools: Tools): Route[] =>
  viewNames.flatMap((name) => [
    readRoute(name, tools),
    liveRoute(name, tools),
    // Whoever steps back through a day sees no more of it than they saw on the day.
    ...(mayView[name].includes('supervisor') || mayView[name] === 'enrolled' ? [stepRoute(name, tools)] : []),
  ])

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

function liveRoute(view: ViewName, tools: Tools): Route {
  return route('get', `/api/days/:dayId/live/${view}/:key`, {
    says: `The ${view} view, newest at once and after each change, as server-sent events. \`id\` is the day’s version; a reader resumes with Last-Event-ID. A \`beat\` comes while nothing changes.`,
    may: mayView[view],
    go: (c) => liveView(c, view, tools),
  })
}

/** Runs until the reader goes, or until whoever may see this no longer does. */
function liveView(c: HouseContext, view: ViewName, { views, sessions, onBroken }: Tools): Response {
  const seen = Number(c.req.header('last-event-id') ?? 0) || 0
  const gone = new AbortController()
  const signal = c.var.who.ended ? AbortSignal.any([gone.signal, c.var.who.ended]) : gone.signal
  c.header('cache-control', 'no-store')
  c.header('x-accel-buffering', 'no')

  return streamSSE(c, async (stream) => {
    stream.onAbort(() => gone.abort())
    let beating = false
    const beat = setInterval(() => {
      sessions.sweep()
      // A reader that has not taken the last beat gets no other on top of it.
      if (beating) return
      beating = true
      void stream.writeSSE({ event: 'beat', data: '{}' }).finally(() => (beating = false))
    }, beatMs)
    const ended = new Promise<void>((resolve) => signal.addEventListener('abort', () => resolve(), { once: true }))
    try {
      await stream.write('retry: 2000\n\n')
      const rows = views.watch(c.req.param('dayId')!, view, c.req.param('key')!, signal)
      await Promise.race([
        ended,
        sendAll(paced(without(seen, rows), { gapMs, isUrgent: (before, now) => isUrgent(view, before, now), signal })),
      ])
    } catch (error) {
      if (!signal.aborted) onBroken(error, `GET ${c.req.routePath}`)
    } finally {
      clearInterval(beat)
      gone.abort()
    }

    async function sendAll(paceful: AsyncIterable<View>) {
      for await (const row of paceful) await stream.writeSSE({ id: String(row.version), data: textOf(row) })
    }
  })
}

/** Five hundred screens that read one row share its text. */
const texts = new WeakMap<View, string>()
function textOf(row: View): string {
  const text = texts.get(row) ?? JSON.stringify({ version: row.version, body: row.body })
  texts.set(row, text)
  return text
}

/** A reader that comes back has what it had. Any other version it is shown, an older one too: the data may have been restored meanwhile. */
async function* without(seen: number, rows: AsyncIterable<View>): AsyncGenerator<View> {
  let isFirst = true
  for await (const row of rows) {
    if (!isFirst || row.version !== seen) yield row
    isFirst = false
  }
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
