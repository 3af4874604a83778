import type { RecordView } from '@musterbook/day/views/record'
import { trainingCaution } from '@musterbook/scoring/where-to-train'
import type { ProgressLine, TrainingLine } from '../standings.ts'
import { noteWords, sayAmount, tryInWords } from './measured-words.ts'
import { ProgressTable } from './progress-table.tsx'
import { stateWords, timeAt } from './words.ts'

interface Props {
  record: RecordView
  name: string
  className: string
  timeZone: string
  /** The student’s own words, placed in a case about this day: they travel with the record. */
  statements: readonly string[]
  train: readonly TrainingLine[]
  /** Since each earlier test day, oldest first. */
  earlier: readonly { date: string; lines: readonly ProgressLine[] }[]
}

/** One student’s results: raw first, percentile with its basis, how it was measured, and what a reader must know. */
export function StudentSheet({ record, name, className, timeZone, statements, train, earlier }: Props) {
  const time = timeAt(timeZone)
  const named = new Map(record.stations.map(({ stationId, name: test }) => [stationId, test]))
  return (
    <>
      <h1>{name}</h1>
      <dl>
        <dt>Test day</dt>
        <dd>
          {record.title}, {record.date}
        </dd>
        <dt>Class, bib</dt>
        <dd>
          {className}, {record.bib ? `#${record.bib}` : 'no bib'}
        </dd>
        <dt>Norm group</dt>
        <dd>
          {record.normGroup.sex}, {record.normGroup.ageYears} years on the test date
        </dd>
        {record.mass && (
          <>
            <dt>Body mass</dt>
            <dd>
              {sayAmount(record.mass.amount, record.mass.unit)}, scale {record.mass.scaleId}, {time(record.mass.at)}
              {record.mass.afterEffort && ', taken after an effort'}
            </dd>
          </>
        )}
        <dt>State of the record</dt>
        <dd>{record.sealed ? 'The day is sealed.' : 'The day is open: results are provisional.'}</dd>
      </dl>

      <h2>Results</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">Test</th>
            <th scope="col">Result</th>
            <th scope="col">Percentile</th>
            <th scope="col">State</th>
            <th scope="col">Basis</th>
          </tr>
        </thead>
        <tbody>
          {record.stations.map(({ stationId, name: test, protocolId, protocolVersion, source, invented, result }) => (
            <tr key={stationId}>
              <th scope="row">{test}</th>
              <td>{result.says ?? '—'}</td>
              <td>
                {result.placing ?? '—'}
                {result.group && `, group ${result.group}`}
              </td>
              <td>
                {stateWords[result.state]}
                {result.notes.length > 0 && `; ${result.notes.map((note) => noteWords[note] ?? note).join(', ')}`}
              </td>
              <td class="quiet">
                {protocolId} version {protocolVersion}
                {result.timing && `, ${result.timing} timing`}
                {result.equipmentIds.length > 0 && `, ${result.equipmentIds.join(', ')}`}. {source}
                {invented && '; protocol invented for this site'}.{' '}
                {result.table ? `Norms ${result.table}${result.invented ? ' (invented)' : ''}.` : 'No norms.'}
              </td>
            </tr>
          ))}
        </tbody>
      </table>

      {earlier.map(({ date, lines }) => (
        <section key={date}>
          <h2>Since {date}</h2>
          <ProgressTable lines={lines} />
        </section>
      ))}

      {statements.length > 0 && (
        <>
          <h2>The student’s own statement</h2>
          {statements.map((words) => (
            <blockquote key={words}>{words}</blockquote>
          ))}
        </>
      )}

      <h2>How each score was got</h2>
      {record.stations
        .filter(({ result }) => result.working.length > 0)
        .map(({ stationId, name: test, result }) => (
          <section key={stationId} class="try">
            <h3>{test}</h3>
            <ol>
              {result.working.map((line, index) => (
                <li key={index}>
                  {line.rule}: <strong>{line.gives}</strong>
                </li>
              ))}
            </ol>
          </section>
        ))}

      <h2>Tries</h2>
      {record.stations
        .filter(({ attempts }) => attempts.length > 0)
        .map(({ stationId, name: test, attempts }) => (
          <section key={stationId} class="try">
            <h3>{test}</h3>
            <ol>
              {attempts.map((attempt) => (
                <li key={attempt.attemptId}>{tryInWords(attempt, time)}</li>
              ))}
            </ol>
          </section>
        ))}

      <h2>Order and rest</h2>
      <p>{record.order.length > 0 ? record.order.map((id) => named.get(id) ?? id).join(', then ') : 'No test was tried.'}</p>
      {record.entitlements.length > 0 && (
        <>
          <h2>Retests</h2>
          <ul>
            {record.entitlements.map(({ entitlementId, stationIds, until, because }) => (
              <li key={entitlementId}>
                {stationIds.map((id) => named.get(id) ?? id).join(', ')} until {until} ({because})
              </li>
            ))}
          </ul>
        </>
      )}
      {train.length > 0 && (
        <>
          <h2>Where to train first</h2>
          <ul>
            {train.slice(0, 2).map(({ station, from, to, isClearlyLowest, note }) => (
              <li key={station}>
                <strong>{station}</strong>, between the {from}th and the {to}th percentile
                {isClearlyLowest ? '' : '; not clearly lower than the others'}. {note && `${note.words} (${note.source})`}
              </li>
            ))}
          </ul>
          <p class="quiet">{trainingCaution}</p>
        </>
      )}
      <p class="quiet">
        A difference smaller than the measurement error of a test is no clear change. To question a value, ask the coordinator: nothing is
        edited, a correction is added beside it.
      </p>
    </>
  )
}
