import { Queue } from './queue.tsx'
import type { Examples } from '../examples.ts'

const now = Date.UTC(2026, 4, 11, 8, 20)
const minutesAgo = (minutes: number) => now - minutes * 60_000
const places = [
  { student: { id: 's-104', name: 'Marek Dahl', bib: '104', class: 'Lark-7' }, since: minutesAgo(14), state: 'underWay' as const },
  { student: { id: 's-101', name: 'Ada Marsh', bib: '101', class: 'Lark-7', lookAlike: true }, since: minutesAgo(12) },
  { student: { id: 's-102', name: 'Adam Marsh', bib: '102', class: 'Lark-7', lookAlike: true }, since: minutesAgo(7) },
  {
    student: { id: 's-115', name: 'Sunniva Okoro-Lindqvist', bib: '115', class: 'Lark-7' },
    since: minutesAgo(0.6),
    note: 'Limit: walk only',
  },
]
const nothing = () => undefined

export const examples: Examples = {
  'four places': () => <Queue places={places} now={now} onCallUp={nothing} />,
  'nobody waiting': () => <Queue places={[]} now={now} onCallUp={nothing} />,
  'seen without the right to call up': () => <Queue places={places.slice(1)} now={now} />,
}
