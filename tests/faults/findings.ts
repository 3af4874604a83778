import type { Entry, StreamName } from '@musterbook/ledger/ledger'
import { lostAndDoubled, type Told } from './history.ts'

/** One line of the table of faults: how often, what its clients were told and what became of it, and every broken promise as a sentence. */
export interface Findings {
  rounds: number
  asked: number
  acknowledged: number
  /** Acknowledged, and nowhere. */
  lost: number
  /** There more than once. */
  doubled: number
  /** Told no, which stands in the record. */
  refused: number
  /** Never answered: there or not. */
  unknown: number
  readonly faults: string[]
  /** What else was done, as a sentence. */
  also?: string
}

export function newFindings(): Findings {
  return { rounds: 0, asked: 0, acknowledged: 0, lost: 0, doubled: 0, refused: 0, unknown: 0, faults: [] }
}

interface Noted {
  rounds: number
  told: readonly Told[]
  streams: ReadonlyMap<StreamName, readonly Entry[]>
}

export function note(findings: Findings, { rounds, told, streams }: Noted): void {
  const { lost, doubled } = lostAndDoubled(told, streams)
  findings.rounds += rounds
  findings.asked += told.length
  findings.acknowledged += told.filter((each) => each.acknowledged && !each.refused).length
  findings.lost += lost
  findings.doubled += doubled
  findings.refused += told.filter((each) => each.refused).length
  findings.unknown += told.filter((each) => !each.acknowledged).length
}
