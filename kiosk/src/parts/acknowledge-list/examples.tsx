import { AcknowledgeList } from './acknowledge-list.tsx'
import type { Examples } from '../examples.ts'

export const examples: Examples = {
  'some have not': () => (
    <AcknowledgeList
      listeners={[
        { id: 'd-1', name: 'Track, tablet 3', person: 'B. Ahlgren', state: 'heard', afterMs: 6_000 },
        {
          id: 'd-2',
          name: 'Yard, tablet 4',
          person: 'J. Vale',
          state: 'notHeard',
          age: 'Silent for 4 min; in contact 6 s ago',
          next: 'Walk over, or radio J. Vale',
        },
        { id: 'd-3', name: 'Bleachers, tablet 5', state: 'unreachable' },
      ]}
    />
  ),
}
