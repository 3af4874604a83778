import { useState } from 'preact/hooks'
import type { AgreementLine } from '@musterbook/gateway/agreement'
import type { ClassPage } from '@musterbook/gateway/cohort'
import type { Class } from '@musterbook/vocabulary/office'
import type { House } from '../house/house.ts'
import { useFetched } from '../office/fetched.ts'
import { DataTable } from '../parts/data-table/data-table.tsx'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Choice } from '../parts/field/field.tsx'
import { staffName } from '../supervisor/who.ts'
import { figure } from '../words/figures.ts'
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
  const fetched = useFetched<ClassPage>(house, `/api/days/${dayId}/cohorts/${classId}`)
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
      <Agreement house={house} lines={cohort.agreement} />
      <p>{say.hiddenHelp(cohort.least)}</p>
      <div class="row">
        <a class="inbox-link" href={`/sheets/days/${dayId}/cohorts/${classId}`}>
          {say.printClass}
        </a>
      </div>
    </div>
  )
}

/** Each two people who read the same things, with their mean difference and its limits. */
function Agreement({ house, lines }: { house: House; lines: readonly AgreementLine[] }) {
  const say = words.records
  const value = (amount: number | undefined, sign: string) => (amount === undefined ? say.hidden : `${figure(amount, 2)} ${sign}`.trim())
  return (
    <section class="stack">
      <h2>{say.agreement}</h2>
      <p>{say.agreementHelp}</p>
      <DataTable<AgreementLine>
        caption={say.agreement}
        captionSpoken
        rows={lines}
        rowKey={({ test, sign, first, second }) => `${test} ${sign} ${first} ${second}`}
        empty={{ says: say.noAgreement }}
        columns={[
          { key: 'test', head: say.test, names: true, cell: ({ test }) => test },
          {
            key: 'raters',
            head: say.raters,
            cell: ({ first, second }) => say.ratersAre(staffName(house, first), staffName(house, second)),
          },
          {
            key: 'pairs',
            head: say.pairs,
            figures: true,
            cell: ({ shown }) => (shown ? say.pairsAre(shown.pairs, shown.students) : say.hidden),
          },
          { key: 'bias', head: say.bias, figures: true, cell: ({ shown, sign }) => value(shown?.bias, sign) },
          {
            key: 'limits',
            head: say.limits,
            figures: true,
            cell: ({ shown, sign }) => (shown ? say.limitsAre(value(shown.lower, sign), value(shown.upper, sign)) : say.hidden),
          },
          { key: 'error', head: say.technicalError, figures: true, cell: ({ shown, sign }) => value(shown?.technicalError, sign) },
        ]}
      />
    </section>
  )
}
