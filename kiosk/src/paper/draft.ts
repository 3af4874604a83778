import type { WrittenWave } from './acts.ts'

/** The head of the sheet that is being typed in. */
export interface SheetDraft {
  number: string
  writerId: string
  stationId: string | null
  /** Of the picture of this very sheet. */
  photoDigest: string | null
  /** Equipment of the station that the sheet says was not used. */
  without: readonly string[]
}
export const blankSheet: SheetDraft = { number: '', writerId: '', stationId: null, photoDigest: null, without: [] }

/** One row of it. */
export interface RowDraft {
  studentId: string
  clock: string
  /** Empty: a value stands there. */
  code: string
  typed: string
  /** By site, then by reading. */
  folds: Record<string, readonly string[]>
  official: boolean
}
export const blankRow: RowDraft = { studentId: '', clock: '', code: '', typed: '', folds: {}, official: true }

/** A wave as its sheet has it, and the row of one runner. */
export interface LapsDraft {
  waveId: string
  /** Guns that were told from this tablet: their rows are typed in before the site knows them. */
  own: readonly WrittenWave[]
  gun: string
  bibs: string
  official: boolean
  studentId: string
  row: string
  code: string
  ended: string
}
export const blankRunner = { studentId: '', row: '', code: '', ended: '' }
export const blankLaps: LapsDraft = { waveId: '', own: [], gun: '', bibs: '', official: true, ...blankRunner }

export type Kept<Draft> = readonly [Draft, (change: Partial<Draft>) => void]
