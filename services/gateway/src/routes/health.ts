import { z } from 'zod'
import { keptHead } from '@musterbook/ledger/kept-head'
import { route, type Route } from '../http/route.ts'
import type { Tools } from '../tools.ts'

/** A projection further behind than both of these is not what a screen should show. */
const tooFarBehind = { entries: 200, ms: 5_000 }

const Lag = z.object({ name: z.string(), dayId: z.string(), behind: z.int(), forMs: z.number(), stopped: z.string().nullable() })
const Health = z.object({
  ok: z.boolean(),
  ledger: z.object({ entries: z.int(), streams: z.int(), head: z.string() }),
  disk: z.object({ ok: z.boolean(), says: z.string().nullable() }),
  projections: z.array(Lag),
  /** Days that cannot go on, each with why; the others do. An empty id: no process that reads the days is heard. */
  stopped: z.array(z.object({ dayId: z.string(), says: z.string() })),
})

/** How the house stands, for whoever watches over it. No names, no results, no health. */
export const healthRoutes = ({ ledger, disk, views }: Tools): Route[] => [
  route('get', '/health', {
    says: 'The ledger’s head and each projection’s lag. 503 when one is more than 200 entries and 5 s behind, or the last sync to disk failed. `stopped` names each day that cannot go on, and why: with 200 the others do, and a restart mends nothing.',
    may: 'anyone',
    answer: Health,
    async go(c) {
      const heads = await ledger.streams('')
      const entries = heads.reduce((sum, { version }) => sum + version, 0)
      const projections = views.lags()
      const late = projections.some(({ behind, forMs }) => behind > tooFarBehind.entries && forMs > tooFarBehind.ms)
      const stopped = stoppedDays(projections)
      const ok = !late && disk().ok
      const ledgerSays = { entries, streams: heads.length, head: keptHead(heads).digest }
      return c.json({ ok, ledger: ledgerSays, disk: disk(), projections, stopped } satisfies z.infer<typeof Health>, ok ? 200 : 503)
    },
  }),
]

/** One line a day, however many of its views stand still. */
const stoppedDays = (lags: readonly z.infer<typeof Lag>[]): z.infer<typeof Health>['stopped'] => [
  ...new Map(lags.flatMap(({ dayId, stopped }) => (stopped === null ? [] : [[dayId, { dayId, says: stopped }] as const]))).values(),
]
