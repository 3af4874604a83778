import { bandAt } from './classify.ts'
import type { HeatPolicy } from './policies.ts'
import { checkReading, type Doubt, type Impossible, type Surroundings } from './reading-checks.ts'
import { type HeatReading, isEstimate, type WetBulbKind } from './reading.ts'
import { wbgtOf } from './wbgt.ts'

/** What a reading comes to under a policy: computed once, when it is heard, and kept with it. */
export interface ReadingFigures {
  readonly readingId: string
  /** Tenths of the policy's unit; null when it could not be computed. */
  readonly wbgtTenths: number | null
  readonly unit: 'degC' | 'degF'
  /** Said settled, and undisturbed for long enough as far as anybody knows. */
  readonly settled: boolean
  /** Nothing impossible in it and no doubt unanswered. */
  readonly usable: boolean
  /** A psychrometric wet bulb in sun makes an estimate, however it was entered. */
  readonly method: HeatReading['method']
  readonly wetBulbKind: WetBulbKind
  /** When it was read, best estimate in ledger time, epoch milliseconds, and how far that may be off. */
  readonly readAt: number
  readonly bandMs: number
}

export interface FiguresAndQuestions extends ReadingFigures {
  /** The policy's band by its name; empty when there is no WBGT. */
  readonly band: string
  /** What stands open about it: `reading-checks` names, and their sentences. */
  readonly questions: readonly (Impossible | Doubt)[]
}

/**
 * The figures of a reading under a policy.
 *
 * @param confirmed the doubts that a person was asked about and answered; what is impossible cannot be confirmed
 * @param at when it was read in ledger time; without it, the device's own clock counts as it stands
 */
export function figuresOf(
  reading: HeatReading,
  policy: HeatPolicy,
  {
    confirmed = [],
    surroundings = {},
    at,
  }: { confirmed?: readonly string[]; surroundings?: Surroundings; at?: { readAt: number; bandMs: number } } = {},
): FiguresAndQuestions {
  const { impossible, doubts } = checkReading(reading, surroundings)
  const wbgt = wbgtOf(reading, policy.unit)
  // Whether it had settled stands beside it and bars lifting by itself; there is nothing to answer.
  const open = doubts.filter((doubt) => doubt !== 'notSettled' && !confirmed.includes(doubt))
  const questions = [...impossible, ...open]
  return {
    readingId: reading.readingId,
    wbgtTenths: wbgt?.tenths ?? null,
    unit: policy.unit,
    band: wbgt ? bandAt(wbgt.tenths, policy).band.id : '',
    settled: !doubts.includes('notSettled'),
    usable: questions.length === 0,
    questions,
    method: isEstimate(reading) ? 'estimate' : reading.method,
    wetBulbKind: reading.wetBulbKind,
    readAt: at?.readAt ?? reading.occurredAt,
    bandMs: at?.bandMs ?? 0,
  }
}
