import { useState } from 'preact/hooks'
import type { CohortPage } from '@musterbook/gateway/cohort'
import type { Class } from '@musterbook/vocabulary/office'
import type { House } from '../house/house.ts'
import { useFetched } from '../office/fetched.ts'
import { DataTable } from '../parts/data-table/data-table.tsx'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Choice } from '../parts/field/field.tsx'
import { words } from '../words/words.ts'

/** A class on one day, in counts that give nobody away. */
export function Classes({ house }: { house: House }) {
  const classes = useFetched<Class[]>(house, '/api/office/classes')
  const [day, chooseDay] = useState('')
  const [chosen, chooseClass] = useState('')
  const say = words.records
  const days = house.days.value
  const dayId = day || (days[0]?.dayId ?? '')
  const classId = chosen || (classes.value?.[0]?.classId ?? '')
  if (days.length === 0) return <EmptyState says={say.noDayYet} />
  return (
    <div class="stack">
      <p>{say.classesHelp}</p>
      <div class="supervisor-pair">
        <Choice
          label={say.chooseDay}
          value={dayId}
          choices={days.map((one) => ({ value: one.dayId, says: say.day(one.title, one.date) }))}
          onChange={chooseDay}
        />
        <Choice
          label={say.chooseClass}
          value={classId}
          choices={(classes.value ?? []).map((one) => ({ value: one.classId, says: one.name }))}
          onChange={chooseClass}
        />
      </div>
      {classId && <Counts key={`${dayId} ${classId}`} house={house} dayId={dayId} classId={classId} />}
      <div class="row">
        <a class="inbox-link" href={`/api/days/${dayId}/results.csv`}>
          {say.csv}
        </a>
        <a class="inbox-link" href={`/api/days/${dayId}/results-dictionary.csv`}>
          {say.dictionary}
        </a>
      </div>
    </div>
  )
}

function Counts({ house, dayId, classId }: { house: House; dayId: string; classId: string }) {
  const fetched = useFetched<CohortPage>(house, `/api/days/${dayId}/cohorts/${classId}`)
  const say = words.records
  const cohort = fetched.value
  if (!cohort) return <p role="status">{fetched.failed ? say.noDayYet : words.office.loading}</p>
  const shown = (count: number | null | undefined) => String(count ?? say.hidden)
  const rows = [...cohort.groups.map((group, at) => ({ group, at })), { group: say.all, at: cohort.groups.length }]
  const isAll = (at: number) => at === cohort.groups.length
  return (
    <div class="stack">
      <p>{cohort.students === null ? say.tooFew : say.present(cohort.students)}</p>
      {cohort.tests.map(({ test, table, counts }) => (
        <section key={test} class="stack">
          <h2>{test}</h2>
          {counts === null ? (
            <p>{say.nothingShown}</p>
          ) : (
            <DataTable<{ group: string; at: number }>
              caption={test}
              captionSpoken
              rows={rows}
              rowKey={({ group }) => group}
              columns={[
                { key: 'group', head: say.normGroup, names: true, cell: ({ group }) => group },
                ...cohort.ranges.map((range, column) => ({
                  key: range,
                  head: range,
                  figures: true,
                  cell: ({ at }: { at: number }) => shown(isAll(at) ? counts.totals[column] : counts.cells[at]?.[column]),
                })),
                {
                  key: 'all',
                  head: say.all,
                  figures: true,
                  cell: ({ at }) => shown(isAll(at) ? cohort.totals.all : cohort.totals.groups[at]),
                },
              ]}
            />
          )}
          {table && <p class="records-note">{table}</p>}
        </section>
      ))}
      <p>{say.hiddenHelp(cohort.least)}</p>
      <div class="row">
        <a class="inbox-link" href={`/sheets/days/${dayId}/cohorts/${classId}`}>
          {say.printClass}
        </a>
      </div>
    </div>
  )
}
