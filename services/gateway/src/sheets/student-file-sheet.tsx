import type { StudentFile } from '../student-file.ts'
import { ProgressTable } from './progress-table.tsx'
import { studentWords } from './student-words.ts'
import { timeAt } from './words.ts'

const replacedBy = { corrected: 'corrected', normGroupChanged: 'norm group changed', reviewRuled: 'ruled on' } as const
const cases = { dispute: 'A value questioned', inspect: 'Asked to see the record', amend: 'Asked to have the record put right' } as const
const entitlementStates = { open: 'open', used: 'used', ended: 'ended, not used' } as const

interface Props {
  file: StudentFile
  timeZone: string
  staff: ReadonlyMap<string, string>
}

/** A student’s record over the years: raw results first, what was superseded beside them, and what is still open. */
export function StudentFileSheet({ file, timeZone, staff }: Props) {
  const { who, erasure, days, progress, entitlements } = file
  const time = timeAt(timeZone)
  const named = (personId: string | null) => (personId ? (staff.get(personId) ?? personId) : 'nobody signed on')
  return (
    <>
      <h1>{who?.name ?? `Record ${file.studentId}`}</h1>
      {who ? (
        <p>
          {who.className}, code {who.code}
          {who.left && ', has left'}
        </p>
      ) : (
        <p>
          {erasure?.erased
            ? `Erased on ${new Date(erasure.erased.at).toISOString().slice(0, 10)} by ${named(erasure.askedBy)} and ${named(erasure.erased.confirmedBy)}: name, photo and words are gone; results stand under this pseudonym.`
            : 'The name is not known here.'}
        </p>
      )}
      {days.map(({ day, record, superseded }) => (
        <section key={day.dayId}>
          <h2>
            {day.title}, {day.date}
            {day.rehearsal && ' (rehearsal)'}
          </h2>
          <p>
            Norm group {record.normGroup.sex}, {record.normGroup.ageYears} years.{' '}
            {day.state === 'open' ? 'The day is open.' : 'The day is sealed.'}
          </p>
          <table>
            <thead>
              <tr>
                <th scope="col">Test</th>
                <th scope="col">Result</th>
                <th scope="col">Percentile</th>
                <th scope="col">State</th>
                <th scope="col">Superseded</th>
              </tr>
            </thead>
            <tbody>
              {record.stations.map(({ stationId, name, result, protocolVersion }) => (
                <tr key={stationId}>
                  <th scope="row">
                    {name}, version {protocolVersion}
                  </th>
                  <td>{result.says ?? '—'}</td>
                  <td>
                    {result.placing ?? '—'}
                    {result.group && `, ${result.group}`}
                    {result.table && `, ${result.table}`}
                  </td>
                  <td>{studentWords.en.states[result.state]}</td>
                  <td>
                    {superseded
                      .filter((one) => one.stationId === stationId)
                      .map((one) => (
                        <p key={one.at}>
                          {one.says}, {one.placing}
                          {one.group && `, ${one.group}`}
                          {one.table && `, ${one.table}`}: {replacedBy[one.by]} {time(one.at)} by {named(one.personId)}
                          {one.countersigned && ` and ${named(one.countersigned)}`}
                        </p>
                      ))}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </section>
      ))}
      {progress.map(({ from, to, lines }) => (
        <section key={to}>
          <h2>
            From {from} to {to}
          </h2>
          <ProgressTable lines={lines} say={studentWords.en} />
        </section>
      ))}
      {entitlements.length > 0 && (
        <>
          <h2>Retests</h2>
          <ul>
            {entitlements.map((one) => (
              <li key={one.entitlementId}>
                {one.stations.join(', ')}: granted {one.grantedOn}, until {one.until}, {entitlementStates[one.state]}
                {one.usedOn && ` ${one.usedOn}`}
              </li>
            ))}
          </ul>
        </>
      )}
      {file.cases.length > 0 && (
        <>
          <h2>Requests and cases</h2>
          <ul>
            {file.cases.map((one) => (
              <li key={one.caseId}>
                {cases[one.kind]}: received {one.receivedOn}, to be answered by {one.answerBy}, {one.state}
              </li>
            ))}
          </ul>
        </>
      )}
      <p class="quiet">A difference smaller than the measurement error of a test is no clear change.</p>
    </>
  )
}
