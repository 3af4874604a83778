import { useState } from 'preact/hooks'
import { GatePanel } from '../gate-panel/gate-panel.tsx'
import { Queue } from '../queue/queue.tsx'
import { Frame } from './frame.tsx'
import type { Examples } from '../examples.ts'

/** Each fills a screen of its own: the parts page shows them one at a time. */
export const whole = true

const now = Date.UTC(2026, 4, 11, 8, 20)
const nothing = () => undefined
const place = 'Skarnvale, 11 May 2026'
const zone = 'Europe/Oslo'
const students = [
  { id: 's-104', name: 'Marek Dahl', bib: '104' },
  { id: 's-101', name: 'Ada Marsh', bib: '101', lookAlike: true },
]
const staff = {
  now,
  zone,
  place,
  stop: { students, onStop: nothing },
  raise: { zones: [{ zoneId: 'track', name: 'Track' }], here: 'track', onRaise: nothing },
  onSignOn: nothing,
  onSignOff: nothing,
  onCard: nothing,
  caution: true,
}

function Station() {
  return (
    <div class="split">
      <Queue
        now={now}
        onCallUp={nothing}
        places={[
          { student: { id: 's-101', name: 'Ada Marsh', bib: '101', class: 'Lark-7', lookAlike: true }, since: now - 12 * 60_000 },
          { student: { id: 's-102', name: 'Adam Marsh', bib: '102', class: 'Lark-7', lookAlike: true }, since: now - 7 * 60_000 },
          { student: { id: 's-115', name: 'Sunniva Okoro-Lindqvist', bib: '115', class: 'Lark-7' }, since: now - 40_000 },
        ]}
      />
      <GatePanel
        gates={[
          { id: 'clearance', name: 'Clearance covers bench press', state: 'met', detail: 'Recorded by P. Holm 09:31, limits: none' },
          { id: 'warmUp', name: 'Warm-up confirmed', state: 'notMet', resolver: 'Warm-up staff' },
          { id: 'contact', name: 'Contact with the site', state: 'unknown', detail: 'Not heard yet', resolver: 'Safety officer' },
        ]}
      />
    </div>
  )
}

/** Says what was asked of it, where a real screen would send it. */
function Heard() {
  const [heard, hear] = useState('')
  return (
    <Frame
      {...staff}
      screen="Bench press"
      contactAgeMs={3_000}
      unsent={0}
      person="J. Vale"
      stop={{ students, onStop: (student) => hear(`Stop: ${'bib' in student ? `bib ${student.bib}` : student.studentId}`) }}
      raise={{ ...staff.raise, onRaise: ({ kind, zoneId }) => hear(`Hold: ${kind}, ${zoneId}`) }}
    >
      {heard && <p role="status">{heard}</p>}
      <Station />
    </Frame>
  )
}

export const examples: Examples = {
  'a station, in contact': () => <Heard />,
  'out of contact under a hold': () => (
    <Frame
      {...staff}
      screen="Run"
      contactAgeMs={5 * 60_000}
      unsent={12}
      person="B. Ahlgren"
      holds={[{ holdId: 'h-1', kind: 'heat', zone: 'Track', since: now - 17 * 60_000, by: 'the heat policy' }]}
    >
      <Station />
    </Frame>
  ),
  'a rehearsal, locked': () => (
    <Frame {...staff} screen="Skinfold" contactAgeMs={undefined} unsent={0} person={null} rehearsal speed={60}>
      <Station />
    </Frame>
  ),
  'a kiosk': () => (
    <Frame screen="Check-in" place={place} now={now} zone={zone} contactAgeMs={2_000} onCallStaff={nothing}>
      <h2>Welcome</h2>
    </Frame>
  ),
}
