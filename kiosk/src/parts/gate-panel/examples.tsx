import { GatePanel, type Gate } from './gate-panel.tsx'
import type { Examples } from '../examples.ts'

const met: Gate[] = [
  { id: 'clearance', name: 'Clearance covers bench press', state: 'met', detail: 'Recorded by P. Holm 09:31, limits: none' },
  { id: 'warmUp', name: 'Warm-up confirmed', state: 'met', detail: '09:52 by J. Vale' },
  { id: 'mass', name: 'Body mass taken', state: 'met', detail: 'Scale S-2, 09:40' },
  { id: 'tries', name: 'Tries left', state: 'met', detail: '5 of 5' },
]

export const examples: Examples = {
  'every gate met': () => <GatePanel gates={met} />,
  'one not met': () => (
    <GatePanel
      gates={[
        {
          id: 'clearance',
          name: 'Clearance covers bench press',
          state: 'notMet',
          detail: 'Not cleared for bench press',
          resolver: 'Medical screener',
        },
        ...met.slice(1),
      ]}
    />
  ),
  'unknown: the reading is old': () => (
    <GatePanel
      gates={[
        ...met.slice(0, 2),
        {
          id: 'reading',
          name: 'Heat reading',
          state: 'unknown',
          detail: 'WBGT 27.1 °C, Track, read 41 min ago',
          resolver: 'Safety officer',
        },
        { id: 'hold', name: 'No hold over Track', state: 'met', detail: 'None in force' },
        {
          id: 'contact',
          name: 'Contact with the site',
          state: 'notMet',
          detail: 'Last heard 6 min ago',
          resolver: 'Radio the safety officer',
        },
      ]}
    />
  ),
}
