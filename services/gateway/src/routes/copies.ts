import { streamSSE } from 'hono/streaming'
import { DayId } from '@musterbook/vocabulary/ids'
import type { Role } from '@musterbook/vocabulary/people'
import type { Entry } from '@musterbook/ledger/ledger'
import { problem } from '../http/problem.ts'
import { route, type HouseContext, type Route } from '../http/route.ts'
import type { Tools } from '../tools.ts'

/** Whoever works on the floor: a locked staff device too, which hears of holds and stops by it. */
const floor: readonly Role[] = ['greeter', 'screener', 'station', 'safety', 'supervisor', 'coordinator', 'auditor', 'device']
const atOnce = 400
const beatMs = 10_000

/** A device's copy of a day: its entries as they are told. Words lie sealed elsewhere; health answers stand in no entry. */
export const copyRoutes = (tools: Tools): Route[] => [
  route('get', '/api/days/:dayId/live/entries/all', {
    says: 'The day’s entries after `after` (or Last-Event-ID), then each as it is told, as server-sent events. `id` counts on over the seal; `caughtUp` comes when all that stood is sent.',
    may: floor,
    go(c) {
      const dayId = DayId.safeParse(c.req.param('dayId'))
      return dayId.success ? copy(c, dayId.data, tools) : problem(c, 404, 'There is no such day.')
    },
  }),
]

function copy(c: HouseContext, dayId: DayId, { ledger, replay, onBroken }: Tools): Response {
  const gone = new AbortController()
  const signal = c.var.who.ended ? AbortSignal.any([gone.signal, c.var.who.ended]) : gone.signal
  c.header('cache-control', 'no-store')
  c.header('x-accel-buffering', 'no')

  return streamSSE(c, async (stream) => {
    stream.onAbort(() => gone.abort())
    const beat = setInterval(() => void stream.writeSSE({ event: 'beat', data: '{}' }), beatMs)
    const ended = new Promise<void>((resolve) => signal.addEventListener('abort', () => resolve(), { once: true }))
    try {
      await stream.write('retry: 2000\n\n')
      await Promise.race([ended, sendAll()])
    } catch (error) {
      if (!signal.aborted) onBroken(error, `GET ${c.req.routePath}`)
    } finally {
      clearInterval(beat)
      gone.abort()
    }

    async function sendAll() {
      let place = Number(c.req.header('last-event-id') ?? c.req.query('after') ?? 0) || 0
      const { version } = await ledger.head(`day/${dayId}`)
      const seen = new Map([
        [`day/${dayId}`, Math.min(place, version)],
        [`after/${dayId}`, Math.max(0, place - version)],
      ])
      const send = async (entries: readonly Entry[]) => {
        place += entries.length
        for (const entry of entries) seen.set(entry.stream, entry.version)
        await stream.writeSSE({ event: 'entries', id: String(place), data: JSON.stringify(entries.map(told)) })
      }
      for (;;) {
        const entries = await replay.entriesOf(dayId, place, atOnce)
        if (entries.length > 0) await send(entries)
        if (entries.length < atOnce) break
      }
      await stream.writeSSE({ event: 'caughtUp', data: String(place) })
      await Promise.all(
        [...seen].map(async ([name, from]) => {
          for await (const entry of ledger.follow(name, new Map([[name, from]]), signal)) if (entry.stream === name) await send([entry])
        }),
      )
    }
  })
}

/** What a fold reads, and no more: the chain is walked at the site. */
const told = ({ stream, version, recordedAt, events, meta }: Entry) => {
  const { commandId, personId, deviceId, deviceSequence, occurredAt, steadyMs, steadyOf, offsetMs, bandMs } = meta
  return {
    stream,
    version,
    recordedAt,
    events,
    meta: { commandId, personId, deviceId, deviceSequence, occurredAt, steadyMs, ...(steadyOf && { steadyOf }), offsetMs, bandMs },
  }
}
