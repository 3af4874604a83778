import type { StationView } from '@musterbook/day/views/station'
import type { AttemptId, ObservationId, PersonId, StationId, StudentId, WaveId } from '@musterbook/vocabulary/ids'
import type { Measured } from '@musterbook/vocabulary/measured'
import type { House } from '../house/house.ts'
import { stands, type Outcome } from '../live/api.ts'
import { newId } from '../shell/shell.tsx'

export interface Sheet {
  sheet: string
  writerId: string
}
/** When it happened, as it is written; ± how far that may be off. */
interface Written {
  at: number
  bandMs: number
}

/** Told as what has happened already, at the written time: nobody's steady clock stands behind it. */
export function paperActs(house: House, view: StationView) {
  const stationId = view.stationId as StationId
  const tell = house.tellWritten
  const from = ({ sheet, writerId }: Sheet) => ({ sheet, writerId: writerId as PersonId })

  return {
    /** The try with its start and its value, both at the time that stands beside it. */
    async result(studentId: string, value: Measured | null, load: Measured | null, official: boolean, sheet: Sheet, written: Written) {
      const attemptId = newId('paper') as AttemptId
      const about = { attemptId, studentId: studentId as StudentId, stationId }
      const started = await tell(
        'startAttempt',
        { ...about, official, load, equipmentIds: [], observerId: null, earlyBecause: null },
        written,
      )
      if (!stands(started)) return started
      return tell(
        'recordResult',
        {
          ...about,
          observationId: newId('paper') as ObservationId,
          outcome: value ? 'good' : 'noLift',
          value,
          folds: [],
          fault: null,
          equipmentIds: [],
          keptUnusual: false,
          official,
          photoDigest: null,
          fromPaper: from(sheet),
        },
        written,
      )
    },
    gun: (waveId: string, studentIds: readonly string[], official: boolean, written: Written) =>
      tell(
        'startWave',
        {
          waveId: waveId as WaveId,
          stationId,
          runners: studentIds.map((studentId) => ({ studentId: studentId as StudentId, attemptId: newId('paper') as AttemptId })),
          official,
        },
        written,
      ),
    /** Every lap of one row, the last of them the finish. */
    async laps(wave: { waveId: string; gunAt: number }, studentId: string, laps: readonly number[], sheet: Sheet): Promise<Outcome> {
      let outcome: Outcome = { said: 'noContact' }
      for (const [index, elapsedMs] of laps.entries()) {
        const line = index === laps.length - 1 ? 'finish' : 'lap'
        const runner = { waveId: wave.waveId as WaveId, studentId: studentId as StudentId }
        const body = { observationId: newId('paper') as ObservationId, ...runner, line, fromPaper: from(sheet) } as const
        outcome = await tell('recordCrossing', body, { at: wave.gunAt + elapsedMs, bandMs: 1_000 })
        if (!stands(outcome)) return outcome
      }
      return outcome
    },
  }
}
