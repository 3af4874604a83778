import type { StationStudent } from '@musterbook/day/views/station'

/** What of a runner's own gates is in the way now; what holds for the whole wave is said once, beside the gun. */
export function ownGateOpen(student: StationStudent, now: number): { says: string; who: string | null; restUntil: number | null } | null {
  const rest = student.gates.find((gate) => gate.gate === 'rest' && gate.until !== null && gate.until > now)
  const open = student.gates.find((gate) => gate.state !== 'met' && !ofTheWave.has(gate.gate))
  if (open) return { says: open.says ?? open.gate, who: open.who, restUntil: null }
  return rest ? { says: '', who: null, restUntil: rest.until } : null
}

const ofTheWave: ReadonlySet<string> = new Set(['hold', 'reading', 'equipment'])

export const isWaiting = ({ place }: StationStudent): boolean => place === 'waiting' || place === 'called'
