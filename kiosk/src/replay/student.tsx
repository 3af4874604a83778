import { useState } from 'preact/hooks'
import { recordView } from '@musterbook/day/views/record'
import type { BoardView } from '@musterbook/day/views/board'
import { dayViews } from '@musterbook/day/views'
import { answersTo, byName } from '../house/find.ts'
import { shown } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { DataTable } from '../parts/data-table/data-table.tsx'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Field } from '../parts/field/field.tsx'
import { StudentCard } from '../parts/student-card/student-card.tsx'
import { whoIs } from '../supervisor/who.ts'
import { words } from '../words/words.ts'
import type { Desk } from './desk.ts'
import { Explained } from './explained.tsx'
import type { Place } from './replay-screen.tsx'
import { resultSays } from './result-says.ts'

interface Props {
  desk: Desk
  place: Place
  onGo: (change: Partial<Place>) => void
}

/** One student’s results; each of them explains itself. */
export function StudentPart({ desk, place, onGo }: Props) {
  const { replay: say } = words
  const record = recordView(desk.now, place.studentId)
  if (!record)
    return (
      <div class="stack">
        <FindStudent desk={desk} onChoose={(studentId) => onGo({ studentId, stationId: '' })} />
        <div class="row">
          <a class="inbox-link" href={`/api/days/${desk.dayId}/results.csv`} download>
            {say.table}
          </a>
          <a class="inbox-link" href={`/api/days/${desk.dayId}/results-dictionary`}>
            {say.dictionary}
          </a>
        </div>
      </div>
    )
  const who = whoIs(desk.house, record.studentId, record.bib)
  const base = `/days/${desk.dayId}`
  return (
    <div class="stack">
      <div class="record-head">
        <StudentCard student={shown(desk.house, record.studentId, record.bib)} size="large" />
        <div class="row">
          <Button onPress={() => onGo({ part: 'cases', caseId: 'new' })}>{say.dispute}</Button>
          <a class="inbox-link" href={`/supervisor?day=${encodeURIComponent(desk.dayId)}#record/${encodeURIComponent(record.studentId)}`}>
            {say.record}
          </a>
          <a class="inbox-link" href={`/sheets${base}/hearing-copies/${record.studentId}`}>
            {say.hearing}
          </a>
          <a class="inbox-link" href={`/api${base}/hearing-copies/${record.studentId}`} download>
            {say.hearingData}
          </a>
          {record.sealed && (
            <a class="inbox-link" href={`/api${base}/bundles/${record.studentId}`} download>
              {say.bundle}
            </a>
          )}
          <Button kind="quiet" onPress={() => onGo({ studentId: '', stationId: '' })}>
            {say.another}
          </Button>
        </div>
      </div>
      <DataTable
        caption={say.results}
        rows={record.stations}
        rowKey={({ stationId }) => stationId}
        columns={[
          { key: 'test', head: say.test, names: true, cell: ({ name }) => name },
          { key: 'result', head: say.asCorrected, figures: true, cell: ({ result }) => resultSays(result) },
          {
            key: 'state',
            head: say.state,
            cell: ({ result }) => words.supervisor.board.result[result.state] || say.noResult,
          },
          {
            key: 'explain',
            head: say.explain,
            screenOnly: true,
            cell: ({ stationId, name }) => (
              <Button
                size="small"
                label={say.explainThis(name, who)}
                pressed={place.stationId === stationId}
                onPress={() => onGo({ stationId })}
              >
                {say.explain}
              </Button>
            ),
          },
        ]}
      />
      {place.stationId && <Explained desk={desk} place={place} onGo={onGo} />}
    </div>
  )
}

export function FindStudent({ desk, onChoose }: { desk: Desk; onChoose: (studentId: string) => void }) {
  const [typed, type] = useState('')
  const board = dayViews.board.of(desk.now, 'all') as BoardView
  const found = board.students.filter((student) => answersTo(desk.house, typed, student)).sort(byName(desk.house))
  return (
    <div class="stack">
      <Field label={words.replay.find} type="search" value={typed} onInput={type} optional />
      {found.length === 0 ? (
        <EmptyState says={words.replay.noStudent} />
      ) : (
        <ul class="record-find">
          {found.map(({ studentId, bib }) => (
            <li key={studentId}>
              <Button wide onPress={() => onChoose(studentId)}>
                {whoIs(desk.house, studentId, bib)}
              </Button>
            </li>
          ))}
        </ul>
      )}
    </div>
  )
}
