import type { Gate } from '@musterbook/day/gates'
import type { StationStudent, StationView } from '@musterbook/day/views/station'
import type { House } from '../house/house.ts'
import { gateSays } from '../house/sentence.ts'
import { GatePanel, type Gate as PanelGate } from '../parts/gate-panel/gate-panel.tsx'
import { RadioWay, radioSays, radioWord } from '../radio/radio.tsx'
import { shortDuration } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { countdown } from './rest-left.tsx'

/** The gates of the day; what runs out by itself is held against the clock of this moment. Open ones first. */
export function Gates({ house, view, student }: { house: House; view: StationView; student: StationStudent }) {
  const now = house.clock.now.value
  const gates = student.gates.map((gate) => atThisMoment(gate, student, now))
  const ordered = [...gates.filter((gate) => gate.state !== 'met'), ...gates.filter((gate) => gate.state === 'met')]
  const contact = contactGate(house, view)
  return (
    <>
      {contact && contact.state !== 'met' && <RadioWay house={house} covers={{ stationId: view.stationId, waveId: null }} />}
      <GatePanel gates={[...(contact ? [contact] : []), ...ordered.map(panelGate)]} />
    </>
  )
}

function panelGate(gate: Gate): PanelGate {
  const { says, next, who } = gateSays(gate)
  return {
    id: gate.gate,
    name: words.station.gates[gate.gate],
    state: gate.state,
    ...(gate.says && { detail: `${says} ${next}` }),
    ...(gate.who && { resolver: who }),
  }
}

/** Shown only once contact is older than the policy allows: then the radio is the way on. */
function contactGate(house: House, { stationId, zoneId, protocol }: StationView): PanelGate | null {
  const day = house.day.value
  const isOutdoor = protocol.outdoor || day?.zones.find((zone) => zone.zoneId === zoneId)?.outdoor
  const ageMs = house.contactAgeMs.value
  if (!day || !(isOutdoor || protocol.maximalEffort) || ageMs === undefined || ageMs <= day.contactAgeMs) return null
  const gate = { id: 'contact', name: words.radio.contact, resolver: words.radio.safetyOfficer }
  const word = radioWord(house, { stationId, waveId: null })
  return word ? { ...gate, state: 'met', detail: radioSays(house, word) } : { ...gate, state: 'unknown', detail: words.radio.contactOld }
}

function atThisMoment(gate: Gate, student: StationStudent, now: number): Gate {
  if (gate.gate === 'rest') {
    const left = (student.restOverAt ?? 0) - now
    return left > 0
      ? { ...gate, state: 'notMet', rule: null, says: words.station.restWaits(countdown(left)), next: null }
      : { ...gate, state: 'met', rule: null, says: null, next: null, who: null }
  }
  if (gate.gate === 'reading' && gate.state === 'met' && gate.until !== null) {
    const left = gate.until - now
    return left > 0
      ? { ...gate, says: words.station.readingUntil(shortDuration(left)) }
      : { ...gate, state: 'unknown', rule: null, says: words.station.readingOver }
  }
  return gate
}
