import { useState } from 'preact/hooks'
import type { Difference } from '@musterbook/replay/compare'
import { whatIf, type Supposition } from '@musterbook/replay/what-if'
import type { DayView } from '@musterbook/day/views'
import type { DayId } from '@musterbook/vocabulary/ids'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { DataTable } from '../parts/data-table/data-table.tsx'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Tick } from '../parts/field/field.tsx'
import { Progress } from '../parts/progress/progress.tsx'
import { readEntries } from '../supervisor/entries.ts'
import { whoIs } from '../supervisor/who.ts'
import { words } from '../words/words.ts'
import type { Desk } from './desk.ts'
import { placedSays } from './moves.tsx'
import { saveAs } from './save.ts'
import { ruleName, SupposeRules, type SupposedRule } from './suppose-rules.tsx'
import { Watermark } from './watermark.tsx'

interface DayStudied {
  day: DayView
  students: number
  moves: readonly Difference[]
}

/** Who would move under other norms or another protocol, over as many past days as are asked for. The record does not move. */
export function StudyPart({ desk }: { desk: Desk }) {
  const { house } = desk
  const { study: say } = words.replay
  const [dayIds, mark] = useState<ReadonlySet<string>>(new Set([desk.dayId]))
  const [rules, suppose] = useState<readonly SupposedRule[]>([])
  const [studied, set] = useState<readonly DayStudied[] | undefined>(undefined)
  const [so, setSo] = useState<{ done: number; of: number } | undefined>(undefined)
  const [no, setNo] = useState('')
  const days = house.days.value
  const study = async () => {
    const chosen = days.filter((day) => dayIds.has(day.dayId))
    set(undefined)
    setNo(chosen.length === 0 || rules.length === 0 ? say.incomplete : '')
    if (chosen.length === 0 || rules.length === 0) return
    if (
      !(await writtenDown(
        house,
        chosen.map(({ dayId }) => dayId),
        rules,
      ))
    )
      return setNo(say.failed)
    const found: DayStudied[] = []
    for (const day of chosen) {
      setSo({ done: found.length, of: chosen.length })
      const entries = day.dayId === desk.dayId ? desk.entries : await readEntries(house, day.dayId, 0, () => {})
      if (!entries) {
        setSo(undefined)
        return setNo(say.failed)
      }
      const imagined = whatIf(day.dayId as DayId, entries, rules)
      found.push({ day, students: imagined.day.students.size, moves: imagined.moves })
    }
    setSo(undefined)
    set(found)
  }
  const rows = (studied ?? []).flatMap(({ day, moves }) => moves.map((move) => ({ day, move })))
  const movers = new Set(rows.map(({ day, move }) => `${day.dayId} ${move.studentId}`)).size
  const students = (studied ?? []).reduce((sum, one) => sum + one.students, 0)
  return (
    <div class="stack">
      <h2>{say.title}</h2>
      <p>{say.help}</p>
      <div class="replay-suppose">
        <fieldset class="sheet stack">
          <legend>{say.days}</legend>
          {days.map((day) => (
            <Tick
              key={day.dayId}
              says={`${day.title}, ${day.date}${day.rehearsal ? `, ${say.rehearsal}` : ''}`}
              checked={dayIds.has(day.dayId)}
              onChange={(isOn) => mark(new Set(isOn ? [...dayIds, day.dayId] : [...dayIds].filter((one) => one !== day.dayId)))}
            />
          ))}
        </fieldset>
        <SupposeRules
          desk={desk}
          onSuppose={(more) => suppose([...rules.filter((rule) => !more.some((one) => ruleName(one) === ruleName(rule))), ...more])}
        />
      </div>
      <Watermark>
        <section class="stack" aria-live="polite">
          <h2>{words.replay.whatIf.supposed}</h2>
          {rules.length === 0 ? (
            <p>{words.replay.whatIf.nothing}</p>
          ) : (
            <ul class="record-facts">
              {rules.map((rule, at) => (
                <li key={at}>{ruleName(rule)}</li>
              ))}
            </ul>
          )}
          <div class="row">
            <Button onPress={() => void study()}>{say.run}</Button>
            {rules.length > 0 && (
              <Button kind="quiet" onPress={() => (suppose([]), set(undefined))}>
                {words.replay.whatIf.clear}
              </Button>
            )}
          </div>
          <p role="status">{no}</p>
          {so && <Progress label={say.working} {...so} />}
          {studied && (
            <>
              <p>{say.found(movers, students, studied.length)}</p>
              {rows.length === 0 ? (
                <EmptyState says={words.replay.whatIf.noMoves} />
              ) : (
                <DataTable
                  caption={words.replay.whatIf.moves}
                  rows={rows}
                  rowKey={({ day, move }) => `${day.dayId} ${move.studentId} ${move.stationId}`}
                  columns={[
                    { key: 'day', head: say.day, cell: ({ day }) => `${day.title}, ${day.date}` },
                    {
                      key: 'who',
                      head: words.replay.whatIf.student,
                      names: true,
                      cell: ({ move }) => whoIs(house, move.studentId, move.bib),
                    },
                    { key: 'test', head: words.replay.test, cell: ({ move }) => move.station },
                    { key: 'before', head: words.replay.whatIf.before, figures: true, cell: ({ move }) => placedSays(move.before) },
                    { key: 'after', head: words.replay.whatIf.after, figures: true, cell: ({ move }) => placedSays(move.after) },
                  ]}
                />
              )}
              <div class="row">
                <Button kind="quiet" onPress={() => saveAs('study.json', dataOf(rules, studied))}>
                  {words.replay.download}
                </Button>
              </div>
            </>
          )}
        </section>
      </Watermark>
    </div>
  )
}

/** One entry of the access log a study, before anything of it is shown. */
export async function writtenDown(house: House, dayIds: readonly string[], rules: readonly SupposedRule[]): Promise<boolean> {
  return (await house.api.post('/api/studies', { dayIds, rules: rules.map(ruleName) })).said === 'recorded'
}

const dataOf = (suppositions: readonly Supposition[], studied: readonly DayStudied[]) => ({
  imagined: true,
  watermark: words.replay.watermark,
  suppositions,
  days: studied.map(({ day, students, moves }) => ({ dayId: day.dayId, date: day.date, students, moves })),
})
