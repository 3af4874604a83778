import type { RecordView } from '@musterbook/day/views/record'
import type { AttemptView } from '@musterbook/day/views/parts'
import { stateWords, timeAt } from './words.ts'

interface Props {
  record: RecordView
  name: string
  className: string
  timeZone: string
}

/** One student’s results: raw first, percentile with its basis, how it was measured, and what a reader must know. */
export function StudentSheet({ record, name, className, timeZone }: Props) {
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
              {record.mass.amount} {record.mass.unit}, scale {record.mass.scaleId}, {time(record.mass.at)}
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
                {result.notes.length > 0 && `; ${result.notes.join(', ')}`}
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
      <p class="quiet">
        A difference smaller than the measurement error of a test is no clear change. To question a value, ask the coordinator: nothing is
        edited, a correction is added beside it.
      </p>
    </>
  )
}

function tryInWords(attempt: AttemptView, time: (at: number) => string): string {
  const kind = attempt.official ? `Official ${attempt.number}${attempt.extra ? ', extra, not counted' : ''}` : 'Practice'
  const seen = attempt.observations.map(({ outcome, value, fault }) =>
    [outcome, value && `${value.amount} ${value.unit} (${value.method})`, fault].filter(Boolean).join(' '),
  )
  const parts = [kind, attempt.startedAt !== null && `at ${time(attempt.startedAt)}`, ...seen]
  if (attempt.finish) parts.push(`finish after ${attempt.finish.elapsedMs} ms, ${attempt.finish.laps} laps`)
  if (attempt.interruptedBy === 'hold') parts.push('interrupted by safety hold: not counted, no try used')
  if (attempt.corrections.length > 0) parts.push(`corrected ${attempt.corrections.length} times`)
  return parts.filter(Boolean).join('; ')
}
