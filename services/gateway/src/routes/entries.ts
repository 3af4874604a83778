import { z } from 'zod'
import { DayId, TextId } from '@musterbook/vocabulary/ids'
import { problem } from '../http/problem.ts'
import { route, type Route } from '../http/route.ts'
import type { Tools } from '../tools.ts'
import { replayRoles } from '../view-roles.ts'

/** A screen asks on from the last version it has. */
const mostEntries = 2_000

const EntryAnswer = z.looseObject({ stream: z.string(), version: z.int(), recordedAt: z.int(), hash: z.string() })

/** The day as it was told, entry by entry, and the words that people typed. */
export const entryRoutes = ({ ledger, replay, office }: Tools): Route[] => [
  route('get', '/api/days/:dayId/entries', {
    says: `Entries of a day after a version, those behind its seal included, at most ${mostEntries}.`,
    may: replayRoles,
    query: z.object({ after: z.coerce.number().int().nonnegative().max(Number.MAX_SAFE_INTEGER).default(0) }),
    answer: z.object({ head: z.object({ version: z.int(), hash: z.string(), sealed: z.boolean() }), entries: z.array(EntryAnswer) }),
    async go(c, { query: { after } }) {
      const dayId = DayId.safeParse(c.req.param('dayId'))
      const head = dayId.success ? await ledger.head(`day/${dayId.data}`) : undefined
      if (!dayId.success || !head?.version) return problem(c, 404, 'There is no such day.')
      const { version, hash, sealed } = head
      return c.json({ head: { version, hash, sealed }, entries: await replay.entriesOf(dayId.data, after, mostEntries) })
    },
  }),
  route('get', '/api/texts/:textId', {
    says: 'Words that somebody typed, by the id that the record holds. Medical words are never opened here.',
    may: replayRoles,
    answer: z.object({ text: z.string() }),
    async go(c) {
      const textId = TextId.safeParse(c.req.param('textId'))
      const text = textId.success ? await office.openText(textId.data) : null
      return text === null ? problem(c, 404, 'There are no such words, or they lie in the medical compartment.') : c.json({ text })
    },
  }),
]
