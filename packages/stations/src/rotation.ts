/** Somebody who still lifts here. Loads in the protocol's unit. */
export interface Lifter {
  studentId: string
  /** When their rest is over; null: rested. */
  restOverAt: number | null
  /** The load that is stated or proposed for their next effort; null where none is known yet. */
  load: number | null
  effortsLeft: number
}

export interface Turn {
  studentId: string
  load: number | null
  startsAt: number
  /** So long the bar lies still before this lift because nobody is rested. */
  idleMs: number
}

/** Loading, spotters, the lift and its call: an assumption of ours for the order alone, never for a rest. */
const liftMs = 60_000

/**
 * One round of a rising bar through everybody's rests: of those who are rested the load next up from what is on the bar,
 * so that plates are put on and seldom off; when nobody is rested, whoever is first. Each lifts once in the round, so
 * nobody waits for more than everybody else's one lift. Common practice; staff call whom they like.
 */
export function rotation(lifters: readonly Lifter[], barLoad: number | null, now: number): Turn[] {
  const waiting = lifters.filter(({ effortsLeft }) => effortsLeft > 0)
  const turns: Turn[] = []
  let [at, bar] = [now, barLoad ?? 0]
  while (waiting.length > 0) {
    const soonest = Math.min(...waiting.map(readyAt))
    const startsAt = Math.max(at, soonest)
    const rested = waiting.filter((lifter) => readyAt(lifter) <= startsAt)
    const next = [...rested].sort((one, other) => wayUp(one, bar) - wayUp(other, bar) || readyAt(one) - readyAt(other))[0]!
    turns.push({ studentId: next.studentId, load: next.load, startsAt, idleMs: startsAt - at })
    waiting.splice(waiting.indexOf(next), 1)
    bar = next.load ?? bar
    at = startsAt + liftMs
  }
  return turns
}

const readyAt = ({ restOverAt }: Lifter): number => restOverAt ?? 0

/** Upwards first, the least step first; what lies below the bar comes after everything above it, lightest first. */
function wayUp({ load }: Lifter, bar: number): number {
  if (load === null) return 0
  return load >= bar ? load - bar : 1_000_000_000 + load
}
