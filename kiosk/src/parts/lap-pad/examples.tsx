import { useState } from 'preact/hooks'
import { LapPad } from './lap-pad.tsx'
import type { Examples } from '../examples.ts'

const now = Date.UTC(2026, 4, 11, 8, 20)
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
  expectedAt: now + (i - 0.5) * 7_000,
  possibleMiss: i === 2,
}))

/** Counts down as a track would. */
function Wave() {
  const [taps, setTaps] = useState<readonly string[]>([])
  return (
    <LapPad
      now={now}
      runners={runners.map((runner) => {
        const crossed = taps.filter((id) => id === runner.student.id).length
        return { ...runner, toGo: runner.toGo - crossed, expectedAt: runner.expectedAt + crossed * 120_000 }
      })}
      onCross={(id) => setTaps([...taps, id])}
      onUndo={(id) => setTaps(taps.filter((tapped) => tapped !== id))}
    />
  )
}

export const examples: Examples = {
  'a wave of eight': () => <Wave />,
}
