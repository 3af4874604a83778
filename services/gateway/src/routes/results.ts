import { z } from 'zod'
import type { RecordView } from '@musterbook/day/views/record'
import { problem } from '../http/problem.ts'
import { route, type HouseContext, type Route } from '../http/route.ts'
import { dictionaryCsv, resultColumns, resultsCsv } from '../results-table.ts'
import type { Tools } from '../tools.ts'
import { replayRoles } from '../view-roles.ts'

/** Results flat, with what each column means. */
export const resultRoutes = ({ views, rosterOf }: Tools): Route[] => {
  const recordsOf = async (c: HouseContext): Promise<RecordView[] | undefined> => {
    const dayId = c.req.param('dayId') ?? ''
    const roster = await rosterOf(dayId)
    if (!roster) return undefined
    const read = await Promise.all(roster.studentIds.map((studentId) => views.get(dayId, 'record', studentId)))
    return read.flatMap((view) => (view ? [view.body as RecordView] : []))
  }
  const noSuchDay = (c: HouseContext) => problem(c, 404, 'There is no such day.')
  return [
    route('get', '/api/days/:dayId/results.csv', {
      says: 'Results of a day, one line a student and test, without names. The dictionary says what each column means.',
      may: replayRoles,
      async go(c) {
        const records = await recordsOf(c)
        if (!records) return noSuchDay(c)
        return c.body(resultsCsv(records), 200, {
          'content-type': 'text/csv; charset=utf-8; header=present',
          'content-disposition': `attachment; filename="results-${c.req.param('dayId')}.csv"`,
        })
      },
    }),
    route('get', '/api/days/:dayId/results-dictionary', {
      says: 'What each column of the flat results means, and its unit.',
      may: replayRoles,
      answer: z.array(z.object({ name: z.string(), means: z.string(), unit: z.string().nullable() })),
      go: (c) => c.json(resultColumns.map(({ name, means, unit }) => ({ name, means, unit }))),
    }),
    route('get', '/api/days/:dayId/results-dictionary.csv', {
      says: 'The same as CSV.',
      may: replayRoles,
      go: (c) =>
        c.body(dictionaryCsv(), 200, {
          'content-type': 'text/csv; charset=utf-8; header=present',
          'content-disposition': 'attachment; filename="results-dictionary.csv"',
        }),
    }),
  ]
}
