import type { DayView } from '@musterbook/day/views'
import type { AgreementLine } from '../agreement.ts'
import type { ClassPage } from '../cohort.ts'

interface Props {
  day: DayView
  className: string
  cohort: ClassPage
  staff: ReadonlyMap<string, string>
}

/** A class on one day, in counts, for people who are to learn about the class and about nobody in it. */
export function CohortSheet({ day, className, cohort, staff }: Props) {
  const shown = (count: number | null | undefined) => (count === null || count === undefined ? '*' : count)
  return (
    <>
      <h1>{className}</h1>
      <p>
        {day.title}, {day.date}. {cohort.students === null ? 'Too few students to be shown.' : `${cohort.students} students present.`}
      </p>
      {cohort.tests.map(({ test, table, counts }) => (
        <section key={test} class="try">
          <h2>{test}</h2>
          {counts === null ? (
            <p>Nothing of this test can be shown without showing somebody.</p>
          ) : (
            <table>
              <thead>
                <tr>
                  <th scope="col">Norm group</th>
                  {cohort.ranges.map((range) => (
                    <th key={range} scope="col">
                      {range}
                    </th>
                  ))}
                  <th scope="col">all</th>
                </tr>
              </thead>
              <tbody>
                {cohort.groups.map((group, row) => (
                  <tr key={group}>
                    <th scope="row">{group}</th>
                    {cohort.ranges.map((range, column) => (
                      <td key={range}>{shown(counts.cells[row]?.[column])}</td>
                    ))}
                    <td>{shown(cohort.totals.groups[row])}</td>
                  </tr>
                ))}
                <tr>
                  <th scope="row">all</th>
                  {cohort.ranges.map((range, column) => (
                    <td key={range}>{shown(counts.totals[column])}</td>
                  ))}
                  <td>{shown(cohort.totals.all)}</td>
                </tr>
              </tbody>
            </table>
          )}
          <p class="quiet">{table ? `Percentiles of ${table}.` : 'No norms: everybody stands under “no result”.'}</p>
        </section>
      ))}
      {cohort.agreement.length > 0 && <Agreement lines={cohort.agreement} staff={staff} />}
      <p class="quiet">
        * Fewer than {cohort.least}, or a count from which such a one could be worked out. Counts alone do not say why groups differ.
      </p>
    </>
  )
}

/** Each two people who read the same things: what to look at together before the next day. */
function Agreement({ lines, staff }: { lines: readonly AgreementLine[]; staff: ReadonlyMap<string, string> }) {
  const named = (personId: string) => staff.get(personId) ?? personId
  const value = (amount: number, sign: string) => `${amount.toFixed(2)} ${sign}`.trim()
  return (
    <section class="try">
      <h2>How far two raters agree</h2>
      <p>
        For training together, not for judging anybody: a difference says nothing of who is right. It is the second’s reading minus the
        first’s; 95 of 100 lie between the limits, if they spread evenly around the mean (bias ± 1.96 SD, after Bland and Altman). Where the
        limits are wide, read a few tries side by side and compare how each is read.
      </p>
      <table>
        <thead>
          <tr>
            <th scope="col">Test</th>
            <th scope="col">First, second</th>
            <th scope="col">Pairs (students)</th>
            <th scope="col">Mean difference</th>
            <th scope="col">Limits of agreement</th>
          </tr>
        </thead>
        <tbody>
          {lines.map(({ test, sign, first, second, shown }) => (
            <tr key={`${test} ${sign} ${first} ${second}`}>
              <th scope="row">{test}</th>
              <td>
                {named(first)}, {named(second)}
              </td>
              <td>{shown ? `${shown.pairs} (${shown.students})` : '*'}</td>
              <td>{shown ? value(shown.bias, sign) : '*'}</td>
              <td>{shown ? `${value(shown.lower, sign)} to ${value(shown.upper, sign)}` : '*'}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}
