import type { AttemptView } from '@musterbook/day/views/parts'
import type { StationStudent, StationView } from '@musterbook/day/views/station'
import type { FoldReading, Outcome as TryOutcome } from '@musterbook/vocabulary/attempt'
import type {
  AttemptId,
  BriefingId,
  CorrectionId,
  EquipmentId,
  ObservationId,
  PersonId,
  StationId,
  StudentId,
} from '@musterbook/vocabulary/ids'
import type { Measured } from '@musterbook/vocabulary/measured'
import type { BodyOf } from '@musterbook/vocabulary/acts'
import type { House } from '../house/house.ts'
import type { Outcome } from '../live/api.ts'
import { newId, tell } from '../shell/shell.tsx'
import { words } from '../words/words.ts'

/** A try that this tablet has open: what it will tell of. */
export interface OpenTry {
  studentId: string
  attemptId: string
  official: boolean
  /** Which of the permitted tries; 0: practice, or nobody saw it start. */
  number: number
  load: Measured | null
  /** A load that was asked about and kept. */
  keptLoad?: boolean
}

/** What was read, in words that the act understands. */
export interface Read {
  outcome: TryOutcome
  value: Measured | null
  folds: FoldReading[]
  fault: string | null
  keptUnusual: boolean
  photoDigest: string | null
  /** For the read-back: "33.5 cm". */
  says: string
}

/** What this tablet recorded last, for the read-back. */
export interface Saved {
  studentId: string
  attemptId: string
  observationId: string
  outcome: TryOutcome
  says: string
  /** As the shell names what was told last. */
  what: string
  at: number
  /** Steady ms: for the ten seconds of an undo, which are real ones. */
  savedMs: number
  told: Outcome | 'sending'
  /** Tells it once more under the same id, where this tablet could neither keep nor tell it. */
  again: () => Promise<void>
}

export type Prompt = BodyOf<'answerPrompt'>['prompt']
export type Change = BodyOf<'correct'>['change']
export type StationActs = ReturnType<typeof stationActs>

/** Everything that a station tells the day, each in one place. */
export function stationActs(house: House, view: StationView) {
  const here = { stationId: view.stationId as StationId }
  const placeOf = (student: StationStudent) => ({ studentId: student.studentId as StudentId, ...here })
  const bibOf = (student: { bib: string | null }) => student.bib ?? '?'
  const equipmentIds = view.equipmentIds as EquipmentId[]

  return {
    join: (studentId: string, bib: string) =>
      tell(house, words.station.told.joined(bib), 'joinQueue', { studentId: studentId as StudentId, ...here }),
    leave: (student: StationStudent) => tell(house, words.station.told.left(bibOf(student)), 'leaveQueue', placeOf(student)),
    callUp: (student: StationStudent) => tell(house, words.station.told.calledUp(bibOf(student)), 'callUp', placeOf(student)),
    sendBack: (student: StationStudent) => tell(house, words.station.told.sentBack(bibOf(student)), 'sendBack', placeOf(student)),
    brief: (student: StationStudent, language: BodyOf<'briefClass'>['language']) =>
      tell(house, words.station.briefed, 'briefClass', {
        briefingId: newId('briefing') as BriefingId,
        studentIds: [student.studentId as StudentId],
        stationIds: [here.stationId],
        language,
      }),
    start: (
      student: StationStudent,
      attemptId: string,
      how: { official: boolean; load: Measured | null; observerId: string | null; earlyBecause: string | null },
    ) =>
      tell(house, words.station.told.started(bibOf(student)), 'startAttempt', {
        attemptId: attemptId as AttemptId,
        ...placeOf(student),
        official: how.official,
        load: how.load,
        equipmentIds,
        observerId: how.observerId as PersonId | null,
        earlyBecause: how.earlyBecause,
      }),
    release: (student: StationStudent, attemptId: string) =>
      tell(house, words.station.told.released(bibOf(student)), 'releaseAttempt', {
        attemptId: attemptId as AttemptId,
        studentId: student.studentId as StudentId,
      }),
    record: (student: StationStudent, open: OpenTry, observationId: string, read: Read) =>
      tell(house, words.station.told.recorded(bibOf(student), read.says), 'recordResult', {
        observationId: observationId as ObservationId,
        attemptId: open.attemptId as AttemptId,
        ...placeOf(student),
        outcome: read.outcome,
        value: read.value,
        folds: read.folds,
        fault: read.fault,
        equipmentIds,
        keptUnusual: read.keptUnusual,
        official: open.official,
        photoDigest: read.photoDigest,
        fromPaper: null,
      }),
    dispute: (student: StationStudent, attemptId: string, observationId: string) =>
      tell(house, words.station.told.disputed(bibOf(student)), 'disputeReadBack', {
        attemptId: attemptId as AttemptId,
        studentId: student.studentId as StudentId,
        observationId: observationId as ObservationId,
      }),
    acknowledge: (student: StationStudent, attemptId: string) =>
      tell(house, words.station.told.acknowledged(bibOf(student)), 'acknowledgeDifference', {
        attemptId: attemptId as AttemptId,
        studentId: student.studentId as StudentId,
      }),
    /** A question and its answer are part of what happened here; nothing waits for them. */
    answer: (prompt: Prompt, studentId: string, attemptId: string | null, shown: string, answer: string) =>
      void house.tell('answerPrompt', {
        prompt,
        studentId: studentId as StudentId,
        attemptId: attemptId as AttemptId | null,
        shown: shown.slice(0, 300),
        answer,
        reason: null,
      }),
    correct: (what: string, studentId: string, attempt: Pick<AttemptView, 'attemptId' | 'revision'>, change: Change, reason: string) =>
      tell(house, what, 'correct', {
        correctionId: newId('correction') as CorrectionId,
        studentId: studentId as StudentId,
        attemptId: attempt.attemptId as AttemptId,
        change,
        reason,
        seenRevision: attempt.revision,
      }),
  }
}
