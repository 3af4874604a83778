import type { Gate } from '@musterbook/day/gates'
import type { StationStudent } from '@musterbook/day/views/station'
import type { House } from '../house/house.ts'
import { GatePanel } from '../parts/gate-panel/gate-panel.tsx'
import { shortDuration } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { countdown } from './rest-left.tsx'

/** The gates of the day; what runs out by itself is held against the clock of this moment. Open ones first. */
export function Gates({ house, student }: { house: House; student: StationStudent }) {
  const now = house.clock.now.value
  const gates = student.gates.map((gate) => atThisMoment(gate, student, now))
  const ordered = [...gates.filter((gate) => gate.state !== 'met'), ...gates.filter((gate) => gate.state === 'met')]
  return (
    <GatePanel
      gates={ordered.map((gate) => ({
        id: gate.gate,
        name: words.station.gates[gate.gate],
        state: gate.state,
        ...(gate.says && { detail: `${gate.says} ${gate.next ?? ''}` }),
        ...(gate.who && { resolver: gate.who }),
      }))}
    />
  )
}

function atThisMoment(gate: Gate, student: StationStudent, now: number): Gate {
  if (gate.gate === 'rest') {
    const left = (student.restOverAt ?? 0) - now
    return left > 0
      ? { ...gate, state: 'notMet', says: words.station.restWaits(countdown(left)), next: null }
      : { ...gate, state: 'met', says: null, next: null, who: null }
  }
  if (gate.gate === 'reading' && gate.state === 'met' && gate.until !== null) {
    const left = gate.until - now
    return left > 0
      ? { ...gate, says: words.station.readingUntil(shortDuration(left)) }
      : { ...gate, state: 'unknown', says: words.station.readingOver }
  }
  return gate
}
