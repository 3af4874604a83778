import type { StationStudent } from '@musterbook/day/views/station'
import { gateSays } from '../house/sentence.ts'

/** What of a runner's own gates is in the way now; what holds for the whole wave is said once, beside the gun. */
export function ownGateOpen(student: StationStudent, now: number): { says: string; who: string | null; restUntil: number | null } | null {
  const rest = student.gates.find((gate) => gate.gate === 'rest' && gate.until !== null && gate.until > now)
  const open = student.gates.find((gate) => gate.state !== 'met' && !ofTheWave.has(gate.gate))
  if (open) {
    const { says, who } = gateSays(open)
    return { says, who: open.who && who, restUntil: null }
  }
  return rest ? { says: '', who: null, restUntil: rest.until } : null
}

const ofTheWave: ReadonlySet<string> = new Set(['hold', 'reading', 'equipment'])

export const isWaiting = ({ place }: StationStudent): boolean => place === 'waiting' || place === 'called'
