import { signal, type Signal } from '@preact/signals'
import type { RunnerView } from '@musterbook/day/views/station'
import type { Outcome } from '../live/api.ts'

/** One touch of this tablet, from the moment of the touch: the day's answer follows. */
export interface Touch {
  observationId: string
  studentId: string
  bib: string | null
  /** Since the gun, as this tablet's clocks say: for the eye. What counts is worked out by the day. */
  elapsedMs: number
  lap: number
  line: 'lap' | 'finish'
  takenBack: boolean
  told: Outcome | 'sending'
}

/** Touches of this tablet by wave. They outlive the tab that shows them. */
const byWave = new Map<string, Signal<readonly Touch[]>>()

export function touchesOf(waveId: string): Signal<readonly Touch[]> {
  const known = byWave.get(waveId) ?? signal<readonly Touch[]>([])
  byWave.set(waveId, known)
  return known
}

/** Touches that the view does not show yet: on their way, or kept here without contact. They count on the key at once. */
export function pending(runner: RunnerView, touches: readonly Touch[]): Touch[] {
  const seen = new Set(runner.crossings.map(({ observationId }) => observationId))
  return touches.filter(
    (touch) => touch.studentId === runner.studentId && !touch.takenBack && !seen.has(touch.observationId) && !isTurnedAway(touch),
  )
}

const isTurnedAway = ({ told }: Touch): boolean => typeof told === 'object' && ['refused', 'notUnderstood', 'notKept'].includes(told.said)

/** Laps to go before the next crossing, and whether that one is the finish. */
export function nextCrossing(runner: RunnerView, touches: readonly Touch[]): { toGo: number; line: 'lap' | 'finish'; lap: number } {
  const waiting = pending(runner, touches).length
  const toGo = Math.max(0, runner.lapsToGo - waiting)
  return { toGo, line: toGo <= 1 ? 'finish' : 'lap', lap: runner.laps + waiting + 1 }
}

export const isOut = ({ status }: RunnerView): boolean => status === 'running' || status === 'held'
