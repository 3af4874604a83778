import type { RecordView } from '@musterbook/day/views/record'
import { studentWords } from './student-words.ts'

interface Props {
  className: string
  title: string
  date: string
  students: { name: string; record: RecordView }[]
}

/** A class by name, never by rank. */
export function ClassSheet({ className, title, date, students }: Props) {
  const stations = students[0]?.record.stations ?? []
  return (
    <>
      <h1>{className}</h1>
      <p>
        {title}, {date}. {students.length} students, by name.
      </p>
      <table>
        <thead>
          <tr>
            <th scope="col" class="names">
              Student
            </th>
            <th scope="col">Bib</th>
            {stations.map(({ stationId, name }) => (
              <th scope="col" key={stationId}>
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {students.map(({ name, record }) => (
            <tr key={record.studentId}>
              <th scope="row">{name}</th>
              <td>{record.bib ? `#${record.bib}` : '—'}</td>
              {record.stations.map(({ stationId, result }) => (
                <td key={stationId}>
                  {result.says ?? '—'}
                  {result.placing && <br />}
                  {result.placing}
                  {result.state !== 'final' && result.state !== 'none' && (
                    <>
                      <br />
                      <span class="quiet">{studentWords.en.states[result.state]}</span>
                    </>
                  )}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
      <p class="quiet">
        Percentiles stand within each student’s own norm group; raw results, percentiles and any minimum standard are kept apart.
      </p>
    </>
  )
}
