import type { HearingCopy } from '@musterbook/replay/hearing'
import { eventInWords } from './event-words.ts'
import { tryInWords } from './measured-words.ts'
import { headMark, MarkedPages } from './marked-pages.tsx'
import { Pictures, type Printed } from './pictures.tsx'
import { studentWords } from './student-words.ts'

interface Props {
  copy: HearingCopy
  name: string
  timeZone: string
  staff: ReadonlyMap<string, string>
  devices: ReadonlyMap<string, string>
  /** What was typed, by its id: names of others are letters in it already. */
  texts: Readonly<Record<string, string>>
  statements: readonly string[]
  pictures: readonly Printed[]
}

/** One student’s record and everything told about it, for people who were not there. */
export function HearingCopySheet({ copy, name, timeZone, staff, devices, texts, statements, pictures }: Props) {
  const clock = new Intl.DateTimeFormat('en-GB', { timeZone, timeStyle: 'medium' })
  const time = (at: number) => clock.format(at)
  const who = (personId: string) => staff.get(personId) ?? personId
  const { record } = copy
  return (
    <MarkedPages mark={headMark(copy.head)}>
      <h1>Hearing copy: {name}</h1>
      <dl>
        <dt>Test day</dt>
        <dd>
          {record.title}, {record.date}
        </dd>
        <dt>Bib</dt>
        <dd>{record.bib ? `#${record.bib}` : 'no bib'}</dd>
        <dt>What is not in it</dt>
        <dd>
          Other students are letters, {copy.others} of them. Nothing of the medical desk is here. Everything else told about this student
          is.
        </dd>
      </dl>
      <h2>Results as the record has them</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">Test</th>
            <th scope="col">Result</th>
            <th scope="col">Percentile</th>
            <th scope="col">State</th>
            <th scope="col">Tries, with what was corrected</th>
          </tr>
        </thead>
        <tbody>
          {record.stations.map(({ stationId, name: test, result, attempts }) => (
            <tr key={stationId}>
              <th scope="row">{test}</th>
              <td>{result.says ?? '—'}</td>
              <td>
                {result.placing ?? '—'}
                {result.group && `, group ${result.group}`}
                {result.table && `, norms ${result.table}`}
              </td>
              <td>
                {studentWords.en.states[result.state]}
                {result.notes.length > 0 && `; ${result.notes.map((note) => studentWords.en.notes[note] ?? note).join(', ')}`}
              </td>
              <td class="quiet">{attempts.map((attempt) => tryInWords(attempt, time)).join('. ') || '—'}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {statements.length > 0 && (
        <>
          <h2>The student’s own statement</h2>
          {statements.map((words) => (
            <blockquote key={words}>{words}</blockquote>
          ))}
        </>
      )}
      <Pictures pictures={pictures} time={time} who={who} />
      <h2>Every entry about it, in the order of the record</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">Entry</th>
            <th scope="col">Happened (±), recorded</th>
            <th scope="col">What</th>
            <th scope="col">Who, on which device</th>
          </tr>
        </thead>
        <tbody>
          {copy.entries.map((entry) => (
            <tr key={`${entry.stream} ${entry.version}`}>
              <td>
                {entry.version}
                {entry.stream.startsWith('after/') && ', after the seal'}
              </td>
              <td>
                {time(entry.happenedAt)} (± {entry.bandMs} ms), {time(entry.recordedAt)}
              </td>
              <td>
                {entry.events.map((event, at) => (
                  <p key={at}>{eventInWords(event, who)}</p>
                ))}
                {textIdsOf(entry.events).map((textId) => texts[textId] && <p key={textId}>“{texts[textId]}”</p>)}
              </td>
              <td>
                {entry.personId ? who(entry.personId) : 'nobody signed on'}, {devices.get(entry.deviceId) ?? entry.deviceId}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </MarkedPages>
  )
}

export const textIdsOf = (events: unknown): string[] =>
  [...JSON.stringify(events).matchAll(/"textId":"([^"]+)"/g)].map(([, textId]) => textId!)
