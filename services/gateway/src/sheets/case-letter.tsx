import { picturesOf } from '@musterbook/day/views/pictures'
import type { RecordView } from '@musterbook/day/views/record'
import type { Case } from '@musterbook/vocabulary/case'
import { headMark, MarkedPages } from './marked-pages.tsx'

interface Props {
  one: Case
  name: string
  site: string
  record: RecordView
  head: { entries: number; hash: string }
  timeZone: string
  staff: ReadonlyMap<string, string>
}

const findings = {
  upheld: 'Your question is upheld.',
  partlyUpheld: 'Your question is upheld in part.',
  notUpheld: 'Your question is not upheld.',
}
const asked = {
  dispute: 'You questioned a value in your record.',
  inspect: 'You asked to see your record.',
  amend: 'You asked to have your record put right.',
}

/** What the student is told, by whom it was decided, and what it rests on. */
export function CaseLetter({ one, name, site, record, head, timeZone, staff }: Props) {
  const clock = new Intl.DateTimeFormat('en-GB', { timeZone, dateStyle: 'medium', timeStyle: 'short' })
  const time = (at: number) => clock.format(at)
  const who = (personId: string) => staff.get(personId) ?? personId
  const decision = one.decisions.findLast(({ approved }) => approved)
  const station = record.stations.find(({ stationId }) => stationId === one.stationId)
  const pictures = picturesOf(record).filter((picture) => !station || picture.station === station.name)
  return (
    <MarkedPages mark={headMark(head)}>
      <p>{site}</p>
      <h1>To {name}</h1>
      <p>
        {asked[one.kind]} It reached us on {one.receivedOn}; it was to be answered by {one.answerBy}. It is about the test day{' '}
        {record.title}, {record.date}
        {station && `, ${station.name}`}.
      </p>
      <blockquote>{one.question}</blockquote>
      {decision ? (
        <>
          <h2>{findings[decision.finding]}</h2>
          <p>{decision.reasons}</p>
          <p>
            Decided by {who(decision.draftedBy)}, {time(decision.draftedAt)}; approved by {who(decision.approved!.by)},{' '}
            {time(decision.approved!.at)}.
          </p>
        </>
      ) : (
        one.kind !== 'inspect' && <p>No decision is approved yet. This is a draft and not to be sent.</p>
      )}
      {station && (
        <>
          <h2>{station.name} in your record now</h2>
          <p>
            {station.result.says ?? 'No result'}
            {station.result.placing && `, ${station.result.placing}`}
            {station.result.group && `, group ${station.result.group}`}
            {station.result.table && `, norms ${station.result.table}`}.
          </p>
          {one.corrections.length > 0 && (
            <p>What stood before was not deleted: it stays in the record, marked as superseded, beside who corrected it and why.</p>
          )}
        </>
      )}
      {one.corrections.length > 0 && (
        <ul>
          {one.corrections.map(({ correctionId, stream, version }) => (
            <li key={correctionId}>
              Correction {correctionId}: entry {version} of {stream}
            </li>
          ))}
        </ul>
      )}
      {one.exhibits.length > 0 && (
        <>
          <h2>What it rests on</h2>
          <ol>
            {one.exhibits.map((exhibit) => (
              <li key={exhibit.exhibitId}>
                The record as it stood after entry {exhibit.entries}, {time(exhibit.recordedAt)}: {exhibit.note}
                <p class="digest">{exhibit.recordDigest}</p>
              </li>
            ))}
          </ol>
        </>
      )}
      {pictures.length > 0 && (
        <>
          <h2>Pictures of the display or the bar, kept with your record by their digests</h2>
          <ul>
            {pictures.map(({ photoDigest, station: of, number, at }) => (
              <li key={photoDigest}>
                {of}, try {number}, {time(at)}
                <p class="digest">{photoDigest}</p>
              </li>
            ))}
          </ul>
        </>
      )}
      {one.statements.length > 0 && <p>Your own statement is attached to your record and travels with it.</p>}
      <p>
        You may ask to see your record, ask for it to be put right, and place a statement in it. How a decision can be questioned further is
        for local policy to say; ask the coordinator.
      </p>
    </MarkedPages>
  )
}
