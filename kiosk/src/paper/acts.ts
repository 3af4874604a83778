import type { StationView } from '@musterbook/day/views/station'
import type { FoldReading, FromPaper, Outcome as TryOutcome } from '@musterbook/vocabulary/attempt'
import type { AttemptId, EquipmentId, ObservationId, StationId, StudentId, WaveId } from '@musterbook/vocabulary/ids'
import type { Measured } from '@musterbook/vocabulary/measured'
import type { House } from '../house/house.ts'
import { stands, type Outcome } from '../live/api.ts'
import { newId } from '../shell/shell.tsx'
import type { Written } from './written.ts'

/** One try as a sheet has it. */
export interface WrittenTry {
  studentId: string
  official: boolean
  outcome: TryOutcome
  value: Measured | null
  load: Measured | null
  folds: FoldReading[]
  fault: string | null
  keptUnusual: boolean
}

export interface WrittenWave {
  waveId: string
  gunAt: number
  official: boolean
  runners: readonly { studentId: string; attemptId: string }[]
}

/** How a row of laps ended, where its last time is no finish. */
export interface EndedEarly {
  outcome: TryOutcome
  fault: string | null
  written: Written
}

/** Told as what has happened already, at the written time: nobody's steady clock stands behind it. */
export function paperActs(house: House, view: StationView, fromPaper: FromPaper, equipmentIds: readonly string[]) {
  const stationId = view.stationId as StationId
  const used = equipmentIds as EquipmentId[]
  const tell = house.tellWritten
  const record = (attemptId: string, { load: _, studentId, ...read }: WrittenTry, written: Written) =>
    tell(
      'recordResult',
      {
        ...read,
        attemptId: attemptId as AttemptId,
        studentId: studentId as StudentId,
        stationId,
        observationId: newId('paper') as ObservationId,
        equipmentIds: used,
        photoDigest: null,
        fromPaper,
      },
      written,
    )

  return {
    /** The try with its start and what came of it, both at the time that stands beside it. */
    async result(attemptId: string, read: WrittenTry, written: Written): Promise<Outcome> {
      const { studentId, official, load } = read
      const about = { attemptId: attemptId as AttemptId, studentId: studentId as StudentId, stationId }
      const started = await tell(
        'startAttempt',
        { ...about, official, load, equipmentIds: used, observerId: null, earlyBecause: null, fromPaper },
        written,
      )
      return stands(started) ? record(attemptId, read, written) : started
    },
    gun: ({ waveId, official, runners }: WrittenWave, written: Written) =>
      tell(
        'startWave',
        {
          waveId: waveId as WaveId,
          stationId,
          runners: runners.map(({ studentId, attemptId }) => ({ studentId: studentId as StudentId, attemptId: attemptId as AttemptId })),
          official,
          fromPaper,
        },
        written,
      ),
    /** Every lap of one row, the last of them the finish; or what ended it before. */
    async laps(wave: WrittenWave, studentId: string, laps: readonly number[], ended: EndedEarly | null): Promise<Outcome> {
      const runner = { waveId: wave.waveId as WaveId, studentId: studentId as StudentId }
      let outcome: Outcome = { said: 'noContact' }
      for (const [index, elapsedMs] of laps.entries()) {
        const line = index === laps.length - 1 && !ended ? 'finish' : 'lap'
        const body = { observationId: newId('paper') as ObservationId, ...runner, line, fromPaper } as const
        outcome = await tell('recordCrossing', body, { at: wave.gunAt + elapsedMs, bandMs: 1_000 })
        if (!stands(outcome)) return outcome
      }
      const attemptId = wave.runners.find((one) => one.studentId === studentId)?.attemptId
      if (!ended || !attemptId) return outcome
      const { written, ...how } = ended
      const nothing = { value: null, load: null, folds: [], keptUnusual: false }
      return record(attemptId, { studentId, official: wave.official, ...nothing, ...how }, written)
    },
  }
}
