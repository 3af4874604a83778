import type { Told } from './history.ts'

/** One line of the table of faults: how often, how much was acknowledged, and every broken promise as a sentence. */
export interface Findings {
  rounds: number
  asked: number
  acknowledged: number
  readonly faults: string[]
}

export function newFindings(): Findings {
  return { rounds: 0, asked: 0, acknowledged: 0, faults: [] }
}

export function note(findings: Findings, { rounds, told }: { rounds: number; told: readonly Told[] }): void {
  findings.rounds += rounds
  findings.asked += told.length
  findings.acknowledged += told.filter((each) => each.acknowledged).length
}
