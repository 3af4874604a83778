import { Reading } from './reading.tsx'
import type { Examples } from '../examples.ts'

const now = Date.UTC(2026, 4, 11, 8, 52)
const reading = {
  name: 'WBGT',
  value: '27.1 °C',
  readAt: now - 12 * 60_000,
  place: 'Track',
  instrument: 'M-2',
  by: 'R. Benning',
  settled: true,
  band: 'Band B of HP-1',
}
const limits = { now, zone: 'Europe/Oslo', limitMs: 30 * 60_000 }

export const examples: Examples = {
  'twelve minutes old': () => <Reading {...limits} reading={reading} />,
  'past its age': () => <Reading {...limits} reading={{ ...reading, readAt: now - 41 * 60_000 }} />,
  'not settled': () => <Reading {...limits} reading={{ ...reading, settled: false, readAt: now - 40_000 }} />,
  none: () => <Reading {...limits} reading={undefined} />,
}
