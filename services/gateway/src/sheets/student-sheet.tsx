import type { RecordView } from '@musterbook/day/views/record'
import { trainingCaution } from '@musterbook/scoring/where-to-train'
import type { ProgressLine, TrainingLine } from '../standings.ts'
import { sayAmount, tryInWords } from './measured-words.ts'
import { ProgressTable } from './progress-table.tsx'
import { placingIn, valueIn, type StudentWords } from './student-words.ts'
import { timeAt } from './words.ts'

interface Props {
  say: StudentWords
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
export function StudentSheet({ say, record, name, className, timeZone, statements, train, earlier }: Props) {
  const time = timeAt(timeZone)
  const named = new Map(record.stations.map(({ stationId, name: test }) => [stationId, test]))
  return (
    <>
      <h1>{name}</h1>
      <dl>
        <dt>{say.testDay}</dt>
        <dd>
          {record.title}, {record.date}
        </dd>
        <dt>{say.classAndBib}</dt>
        <dd>
          {className}, {record.bib ? <bdi>#{record.bib}</bdi> : say.noBib}
        </dd>
        <dt>{say.normGroup}</dt>
        <dd>
          {record.normGroup.sex}, {say.years(record.normGroup.ageYears)}
        </dd>
        {record.mass && (
          <>
            <dt>{say.bodyMass}</dt>
            <dd>
              <bdi>{sayAmount(record.mass.amount, record.mass.unit, say)}</bdi>, {say.scale} <bdi>{record.mass.scaleId}</bdi>,{' '}
              {time(record.mass.at)}
              {record.mass.afterEffort && `, ${say.afterEffort}`}
            </dd>
          </>
        )}
        <dt>{say.stateOfRecord}</dt>
        <dd>{record.sealed ? say.sealed : say.open}</dd>
      </dl>

      <h2>{say.results}</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">{say.test}</th>
            <th scope="col">{say.result}</th>
            <th scope="col">{say.percentile}</th>
            <th scope="col">{say.state}</th>
            <th scope="col">{say.basis}</th>
          </tr>
        </thead>
        <tbody>
          {record.stations.map(({ stationId, name: test, protocolId, protocolVersion, source, invented, result }) => (
            <tr key={stationId}>
              <th scope="row">{test}</th>
              <td>
                <bdi>{result.says === null ? '—' : valueIn(say, result.says)}</bdi>
              </td>
              <td>
                {result.placing === null ? '—' : placingIn(say, result.placing)}
                {result.group && (
                  <>
                    , {say.group} <bdi>{result.group}</bdi>
                  </>
                )}
              </td>
              <td>
                {say.states[result.state]}
                {result.notes.length > 0 && `; ${result.notes.map((note) => say.notes[note] ?? note).join(', ')}`}
              </td>
              <td class="quiet">
                <bdi>{protocolId}</bdi>, {say.version} {protocolVersion}
                {result.timing && `, ${say.timing}: ${say.methods[result.timing] ?? result.timing}`}
                {result.equipmentIds.length > 0 && `, ${result.equipmentIds.join(', ')}`}. <bdi>{source}</bdi>
                {invented && `; ${say.inventedProtocol}`}.{' '}
                {result.table ? `${say.norms} ${result.table}${result.invented ? ` (${say.invented})` : ''}.` : say.noNorms}
              </td>
            </tr>
          ))}
        </tbody>
      </table>

      {earlier.map(({ date, lines }) => (
        <section key={date}>
          <h2>{say.since(date)}</h2>
          <ProgressTable lines={lines} say={say} />
        </section>
      ))}

      {statements.length > 0 && (
        <>
          <h2>{say.statement}</h2>
          {statements.map((words) => (
            <blockquote key={words} dir="auto">
              {words}
            </blockquote>
          ))}
        </>
      )}

      <h2>{say.working}</h2>
      {say.asAdopted && <p class="quiet">{say.asAdopted}</p>}
      {record.stations
        .filter(({ result }) => result.working.length > 0)
        .map(({ stationId, name: test, result }) => (
          <section key={stationId} class="try">
            <h3>{test}</h3>
            <ol>
              {result.working.map((line, index) => (
                <li key={index} dir="auto">
                  {line.rule}: <strong>{line.gives}</strong>
                </li>
              ))}
            </ol>
          </section>
        ))}

      <h2>{say.tries}</h2>
      {record.stations
        .filter(({ attempts }) => attempts.length > 0)
        .map(({ stationId, name: test, attempts }) => (
          <section key={stationId} class="try">
            <h3>{test}</h3>
            <ol>
              {attempts.map((attempt) => (
                <li key={attempt.attemptId}>{tryInWords(attempt, time, say)}</li>
              ))}
            </ol>
          </section>
        ))}

      <h2>{say.orderAndRest}</h2>
      <p>{record.order.length > 0 ? record.order.map((id) => named.get(id) ?? id).join(say.thenNext) : say.noneTried}</p>
      {record.entitlements.length > 0 && (
        <>
          <h2>{say.retests}</h2>
          <ul>
            {record.entitlements.map(({ entitlementId, stationIds, until, because }) => (
              <li key={entitlementId}>
                {stationIds.map((id) => named.get(id) ?? id).join(', ')} {say.until} {until} ({say.because[because] ?? because})
              </li>
            ))}
          </ul>
        </>
      )}
      {train.length > 0 && (
        <>
          <h2>{say.train}</h2>
          <ul>
            {train.slice(0, 2).map(({ station, from, to, isClearlyLowest, note }) => (
              <li key={station}>
                <strong>{station}</strong>, {say.between(from, to)}
                {isClearlyLowest ? '' : `; ${say.notClearly}`}. {note && <bdi>{`${note.words} (${note.source})`}</bdi>}
              </li>
            ))}
          </ul>
          <p class="quiet" dir="auto">
            {trainingCaution}
          </p>
        </>
      )}
      <p class="quiet">{say.errorNote}</p>
      {say.notReviewed && <p class="quiet">{say.notReviewed}</p>}
    </>
  )
}
