import { Timeline } from './timeline.tsx'
import type { Examples } from '../examples.ts'

const at = (minute: number, second: number) => Date.UTC(2026, 4, 11, 8, minute, second)
const moments = [
  {
    id: '1',
    happenedAt: at(20, 4),
    recordedAt: at(20, 4),
    says: 'Ada Marsh, #101, called up to reach.',
    person: 'J. Vale',
    device: 'tablet 2',
  },
  {
    id: '2',
    happenedAt: at(21, 30),
    recordedAt: at(21, 31),
    says: 'Hold raised over Track.',
    person: 'R. Benning',
    device: 'tablet 6',
    state: 'hold' as const,
  },
  {
    id: '3',
    happenedAt: at(21, 52),
    recordedAt: at(28, 2),
    says: 'Marek Dahl, #104, crossed the line.',
    person: 'B. Ahlgren',
    device: 'tablet 3',
    state: 'review' as const,
  },
]

export const examples: Examples = {
  'a hold and a late record': () => <Timeline moments={moments} zone="Europe/Oslo" />,
  'stood at one of them': () => <Timeline moments={moments} zone="Europe/Oslo" current="2" onChoose={() => undefined} />,
  empty: () => <Timeline moments={[]} zone="Europe/Oslo" />,
}
