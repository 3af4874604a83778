import type { InboxView } from '@musterbook/day/views/inbox'
import type { SafetyView } from '@musterbook/day/views/safety'
import type { DayView } from '@musterbook/day/views'
import type { Seal } from '@musterbook/evidence/seal'
import { timeAt } from './words.ts'

interface Props {
  day: DayView
  safety: SafetyView
  /** How many things still wait for a decision. */
  open: number
  head: { version: number; hash: string; sealed: boolean }
  seal: Seal | undefined
  fingerprint: string
}

/** What is kept outside the machine: the day in short, and the head that every later copy must still have. */
export function DaySheet({ day, safety, open, head, seal, fingerprint }: Props) {
  const time = timeAt(day.timeZone)
  return (
    <>
      <h1>{day.title}</h1>
      <dl>
        <dt>Date, place</dt>
        <dd>
          {day.date}, {day.siteId} ({day.timeZone})
        </dd>
        <dt>State</dt>
        <dd>
          {day.state}
          {day.sealedAt !== null && `, sealed ${time(day.sealedAt)}`}
        </dd>
        <dt>Students</dt>
        <dd>{day.studentIds.length}</dd>
        <dt>Waiting for a decision</dt>
        <dd>{open}</dd>
        <dt>Heat policy, norms</dt>
        <dd>
          {day.heatPolicy ?? 'none'}; {day.norms.map(({ id }) => id).join(', ') || 'none'}
        </dd>
      </dl>

      <h2>{head.sealed ? 'Seal' : 'Head so far (the day is not sealed)'}</h2>
      <dl>
        <dt>Entries</dt>
        <dd>{head.version}</dd>
        <dt>Digest of the last entry</dt>
        <dd class="digest">{head.hash}</dd>
        {seal && (
          <>
            <dt>Events, records</dt>
            <dd>
              {seal.statement.events.size} leaves under <span class="digest">{seal.statement.events.root}</span>;{' '}
              {seal.statement.records.size} leaves under <span class="digest">{seal.statement.records.root}</span>
            </dd>
            <dt>Signature</dt>
            <dd class="digest">{seal.signature}</dd>
          </>
        )}
        <dt>Fingerprint of the site’s key</dt>
        <dd class="digest">{fingerprint}</dd>
      </dl>
      <p class="quiet">
        Keep this sheet apart from the machine: entry {head.version} of every later copy of this day must have this digest.
      </p>

      <h2>Stations</h2>
      <ul>
        {day.stations.map(({ stationId, name, protocol }) => (
          <li key={stationId}>
            {name}: {protocol.protocolId} version {protocol.version}
            {protocol.invented && ' (invented)'}
          </li>
        ))}
      </ul>

      <h2>Holds</h2>
      {safety.holds.length === 0 ? (
        <p>No hold was recorded.</p>
      ) : (
        <table>
          <thead>
            <tr>
              <th scope="col">Kind</th>
              <th scope="col">Zone</th>
              <th scope="col">Raised</th>
              <th scope="col">Lifted</th>
              <th scope="col">Under way then</th>
            </tr>
          </thead>
          <tbody>
            {safety.holds.map((hold) => (
              <tr key={hold.holdId}>
                <td>{hold.kind}</td>
                <td>{hold.zone}</td>
                <td>{time(hold.since)}</td>
                <td>{hold.lifted ? time(hold.lifted.at) : 'in force'}</td>
                <td>{hold.underWay.length}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}

      <h2>Readings</h2>
      {safety.readings.length === 0 ? (
        <p>No reading was recorded.</p>
      ) : (
        <table>
          <thead>
            <tr>
              <th scope="col">Read</th>
              <th scope="col">Place, instrument</th>
              <th scope="col">WBGT</th>
              <th scope="col">Settled</th>
            </tr>
          </thead>
          <tbody>
            {safety.readings.map((reading) => (
              <tr key={reading.readingId}>
                <td>{time(reading.readAt)}</td>
                <td>
                  {reading.zone}, {reading.instrumentId}
                </td>
                <td>
                  {reading.wbgtTenths === null
                    ? 'not computed'
                    : `${(reading.wbgtTenths / 10).toFixed(1)} ${reading.unit === 'degC' ? '°C' : '°F'}`}
                </td>
                <td>{reading.settled ? 'yes' : 'no'}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <p class="quiet">The absence of a hold does not rule out heat illness.</p>
    </>
  )
}

export const openIn = (inbox: InboxView): number => inbox.items.length
