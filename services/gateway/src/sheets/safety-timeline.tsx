import type { Entry } from '@musterbook/ledger/ledger'
import { happenedAt } from '@musterbook/vocabulary/envelope'
import type { DayEvent, DayEventOf } from '@musterbook/vocabulary/events'
import { plain } from './measured-words.ts'

/** Names for what stands in the record: bibs for students, never their names. */
interface Named {
  bib(studentId: string): string
  zone(zoneId: string | null): string
  staff(personId: string | null): string
  device(deviceId: string): string
}

type Says = { [T in DayEvent['type']]?: (event: DayEventOf<T>, named: Named) => string }

/** What was read, stopped, held and answered. A stop is said without its reason. */
const says: Says = {
  studentStopped: ({ studentId, zoneId }, { bib, zone }) => `Medical stop ${bib(studentId)}, ${zone(zoneId)}`,
  stopAnswered: ({ studentId, answer }, { bib }) =>
    answer === 'acknowledged' ? `Medical stop ${bib(studentId)} acknowledged` : `Arrived at ${bib(studentId)}`,
  stopperNamed: ({ studentId, personId }, { bib, staff }) => `${bib(studentId)} was stopped by ${staff(personId)}, named afterwards`,
  studentRestored: ({ studentId }, { bib }) => `${bib(studentId)} restored`,
  readingReceived: ({ zoneId, instrumentId, wbgtTenths, unit, settled }, { zone }) =>
    `Reading, ${zone(zoneId)}, ${instrumentId}: ${wbgtTenths === null ? 'WBGT not computed' : `WBGT ${(wbgtTenths / 10).toFixed(1)} ${unit === 'degC' ? '°C' : '°F'}`}, ${settled ? 'settled' : 'not settled'}`,
  hazardObserved: ({ kind, zoneId }, { zone }) => `Observed: ${plain(kind)}, ${zone(zoneId)}`,
  holdRaised: ({ kind, zoneId, underWay }, { zone, bib }) =>
    `Hold raised: ${plain(kind)}, ${zone(zoneId)}; under way: ${underWay.map(({ studentId }) => bib(studentId)).join(' ') || 'nobody'}`,
  holdAcknowledged: ({ deviceId }, { device }) => `Hold heard on ${device(deviceId)}`,
  holdHeardByRadio: ({ deviceId, saidBy }, { device, staff }) =>
    `Hold heard by radio, ${staff(saidBy)} said so; ${device(deviceId)} itself has not acknowledged`,
  holdDisposed: ({ disposition, studentIds }, { bib }) => `Decided for ${studentIds.map(bib).join(' ')}: ${plain(disposition)}`,
  liftProposed: () => 'Lift of a hold proposed',
  holdLifted: () => 'Hold lifted',
  radioConfirmed: ({ spokeTo }, { staff }) => `Confirmed over the radio by ${staff(spokeTo)}`,
  headcountTaken: ({ zoneId, present, missing }, { zone, bib }) =>
    `Headcount, ${zone(zoneId)}: ${present.length} present; not seen: ${missing.map(bib).join(' ') || 'nobody'}`,
  staffCalled: ({ deviceId }, { device }) => `Staff called from ${device(deviceId)}`,
  callAnswered: () => 'Call for staff answered',
}

interface Props {
  title: string
  date: string
  timeZone: string
  entries: readonly Entry[]
  named: Named
}

/** Readings, holds, stops and who answered them when: the safety officer's account of the day. */
export function SafetyTimeline({ title, date, timeZone, entries, named }: Props) {
  const clock = new Intl.DateTimeFormat('en-GB', { timeZone, timeStyle: 'medium' })
  const lines = entries.flatMap((entry) =>
    entry.events.flatMap((event) => {
      const say = says[event.type as DayEvent['type']] as ((event: unknown, named: Named) => string) | undefined
      return say ? [{ entry, line: say(event, named) }] : []
    }),
  )
  return (
    <>
      <h1>Readings, holds and stops</h1>
      <p>
        {title}, {date}. Times of the site. Stops are told without a reason, and students by their bib.
      </p>
      {lines.length === 0 ? (
        <p>Nothing of the kind was recorded.</p>
      ) : (
        <table>
          <thead>
            <tr>
              <th scope="col">Happened</th>
              <th scope="col">In the record</th>
              <th scope="col">What</th>
              <th scope="col">By</th>
              <th scope="col">Entry</th>
            </tr>
          </thead>
          <tbody>
            {lines.map(({ entry: { meta, recordedAt, stream, version }, line }) => (
              <tr key={`${stream} ${version} ${line}`}>
                <td>{clock.format(happenedAt(meta))}</td>
                <td>{clock.format(recordedAt)}</td>
                <td>{line}</td>
                <td>{meta.personId ? named.staff(meta.personId) : `${named.device(meta.deviceId)}, nobody signed on`}</td>
                <td>{version}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <p class="quiet">The absence of a hold does not rule out heat illness.</p>
    </>
  )
}
