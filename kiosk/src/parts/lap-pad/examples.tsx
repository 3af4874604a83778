import { LapPad } from './lap-pad.tsx'
import type { Examples } from '../examples.ts'

const now = Date.UTC(2026, 4, 11, 8, 20)
const nothing = () => undefined
const names = [
  'Marek Dahl',
  'Sunniva Okoro-Lindqvist',
  'Ada Marsh',
  'Kofi Brandt',
  'Tilda Quist',
  'Adam Marsh',
  'Noor Haddad',
  'Ivo Strand',
]
const runners = names.map((name, i) => ({
  student: { id: `s-${104 + i}`, name, bib: String(104 + i), lookAlike: name.endsWith('Marsh') },
  state: i === 6 ? ('finished' as const) : i === 7 ? ('stopped' as const) : ('running' as const),
  toGo: 3 + (i % 2),
  expectedAt: now + (i - 1) * 7_000,
  possibleMiss: i === 2,
}))

export const examples: Examples = {
  'a wave of eight': () => <LapPad runners={runners} now={now} onCross={nothing} onUndo={nothing} />,
}
