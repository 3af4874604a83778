import { inSmallest, type ReadingUnit } from './units.ts'
import type { Step } from './working.ts'

/** A valid official try: practice, faults and extra tries have been left out by whoever asks. */
export interface ValidTry {
  attemptId: string
  amount: number
  unit: ReadingUnit
  /** What another instrument's zero adds, in whole µm: see `onFootLine`. */
  shiftMicrometres?: number
  /** How the try came to its value, for the working: its witnesses, its laps, a correction. */
  before?: readonly Step[]
}

/** The official value as the exact fraction `sum / of`, in ms, µm, µg or pieces: nothing is rounded yet. */
export interface Official {
  sum: number
  of: number
  /** The tries that it rests on, in their order. */
  counted: readonly ValidTry[]
}

/**
 * Which of the valid tries counts, as the protocol says; the earliest of equals. No valid try, no value.
 * Tries may be in different units of one dimension (a bar loaded in pounds after one in kilograms): they are compared exactly.
 */
export function bestOf(
  tries: readonly ValidTry[],
  protocol: { official: 'best' | 'last' | 'mean'; betterIs: 'higher' | 'lower' },
): Official | undefined {
  if (tries.length === 0) return undefined
  if (protocol.official === 'mean')
    return { sum: tries.map(smallest).reduce((sum, value) => sum + value, 0), of: tries.length, counted: tries }
  const counts = tries.reduce((kept, next) => (protocol.official === 'last' || isBetter(next, kept, protocol.betterIs) ? next : kept))
  return { sum: smallest(counts), of: 1, counted: [counts] }
}

const smallest = (one: ValidTry): number => inSmallest(one.amount, one.unit) + (one.shiftMicrometres ?? 0)

const isBetter = (next: ValidTry, kept: ValidTry, betterIs: 'higher' | 'lower'): boolean =>
  betterIs === 'higher' ? smallest(next) > smallest(kept) : smallest(next) < smallest(kept)
