import type { DayView } from '@musterbook/day/views'
import type { CohortPage } from '../cohort.ts'

/** A class on one day, in counts, for people who are to learn about the class and about nobody in it. */
export function CohortSheet({ day, className, cohort }: { day: DayView; className: string; cohort: CohortPage }) {
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
      <p class="quiet">
        * Fewer than {cohort.least}, or a count from which such a one could be worked out. Counts alone do not say why groups differ.
      </p>
    </>
  )
}
