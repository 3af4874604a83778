import { z } from 'zod'
import { route, type Route } from '../http/route.ts'
import type { Tools } from '../tools.ts'

/** The ledger's clock and its speed: devices measure their own against it. */
export const clockRoutes = ({ clock, speed, rehearsalOnly }: Tools): Route[] => [
  route('get', '/api/clock', {
    says: 'The server’s clock, epoch ms, and its speed: 1 but for a rehearsal.',
    may: 'anyone',
    answer: z.object({ now: z.int(), speed: z.number(), rehearsal: z.boolean() }),
    go: (c) => c.json({ now: clock(), speed, rehearsal: rehearsalOnly }),
  }),
]
