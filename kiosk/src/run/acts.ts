import type { RunnerView, StationView } from '@musterbook/day/views/station'
import type { BodyOf } from '@musterbook/vocabulary/acts'
import type {
  AttemptId,
  BriefingId,
  ObservationId,
  PersonId,
  ReferralId,
  StationId,
  StudentId,
  WaveId,
  ZoneId,
} from '@musterbook/vocabulary/ids'
import type { House } from '../house/house.ts'
import { newId, tell } from '../shell/shell.tsx'
import { words } from '../words/words.ts'

export type RunActs = ReturnType<typeof runActs>
type Who = Pick<RunnerView, 'studentId' | 'bib'>

/** Everything that a track tells the day, each in one place. */
export function runActs(house: House, view: Pick<StationView, 'stationId' | 'zoneId'>) {
  const stationId = view.stationId as StationId
  const { told } = words.run
  const bibOf = ({ bib }: Who) => bib ?? '?'
  const idOf = ({ studentId }: Who) => studentId as StudentId

  return {
    /** Stamped with this very moment: the gun is the touch. */
    gun: (waveId: string, studentIds: readonly string[], official: boolean) =>
      tell(house, told.gun(studentIds.length), 'startWave', {
        waveId: waveId as WaveId,
        stationId,
        runners: studentIds.map((studentId) => ({ studentId: studentId as StudentId, attemptId: newId('run') as AttemptId })),
        official,
      }),
    takeOver: (waveId: string, from: string) => tell(house, told.takenOver(from), 'takeOverWave', { waveId: waveId as WaveId }),
    /** A false start: every start of the wave is taken back, each with its trace; nobody has used a try, and all stand in the line again. */
    recall: (runners: readonly (Who & { attemptId: string })[]) =>
      Promise.all(
        runners.map(async (who) => {
          await tell(house, told.recalled, 'releaseAttempt', { attemptId: who.attemptId as AttemptId, studentId: idOf(who) })
          await house.tell('joinQueue', { studentId: idOf(who), stationId })
        }),
      ),
    cross: (waveId: string, who: Who, observationId: string, line: 'lap' | 'finish') =>
      house.tell('recordCrossing', {
        observationId: observationId as ObservationId,
        waveId: waveId as WaveId,
        studentId: idOf(who),
        line,
      }),
    takeBack: (waveId: string, who: Who, observationId: string) =>
      tell(house, told.takenBack(bibOf(who)), 'takeBackCrossing', {
        observationId: observationId as ObservationId,
        waveId: waveId as WaveId,
        studentId: idOf(who),
      }),
    infer: (waveId: string, who: Who, elapsedMs: number, witnessId: string | null) =>
      tell(house, told.inferred(bibOf(who)), 'inferLap', {
        observationId: newId('inferred') as ObservationId,
        waveId: waveId as WaveId,
        studentId: idOf(who),
        elapsedMs,
        witnessId: witnessId as PersonId | null,
      }),
    notFinished: (who: Who & { attemptId: string }, official: boolean, fault: string) =>
      tell(house, told.notFinished(bibOf(who)), 'recordResult', {
        observationId: newId('result') as ObservationId,
        attemptId: who.attemptId as AttemptId,
        studentId: idOf(who),
        stationId,
        outcome: 'didNotFinish',
        value: null,
        folds: [],
        fault,
        equipmentIds: [],
        keptUnusual: false,
        official,
        photoDigest: null,
        fromPaper: null,
      }),
    stop: (who: Who) =>
      tell(house, words.shell.stopped, 'stopStudent', { studentId: idOf(who), zoneId: view.zoneId as ZoneId, reason: 'unwell' }),
    /** A question and its answer are part of what happened here; nothing waits for them. */
    answer: (
      prompt: BodyOf<'answerPrompt'>['prompt'],
      who: Who & { attemptId: string },
      shown: string,
      answer: string,
      reason: string | null,
    ) =>
      tell(house, told.dismissed(bibOf(who)), 'answerPrompt', {
        prompt,
        studentId: idOf(who),
        attemptId: who.attemptId as AttemptId,
        shown: shown.slice(0, 300),
        answer,
        reason,
      }),
    /** Before the gun there is no run yet to name. */
    bibIsRight: (who: Who, shown: string) =>
      void house.tell('answerPrompt', {
        prompt: 'twoPlaces',
        studentId: idOf(who),
        attemptId: null,
        shown: shown.slice(0, 300),
        answer: 'bibIsRight',
        reason: null,
      }),
    join: (studentId: string, bib: string) => tell(house, told.joined(bib), 'joinQueue', { studentId: studentId as StudentId, stationId }),
    brief: (studentIds: readonly string[]) =>
      tell(house, told.briefed, 'briefClass', {
        briefingId: newId('briefing') as BriefingId,
        studentIds: studentIds as readonly StudentId[] as StudentId[],
        stationIds: [stationId],
        language: 'en',
      }),
    lookedOver: (who: Who, lookOver: 'nothingSeen' | 'referred') =>
      tell(house, told.coolDown(bibOf(who)), 'confirmCoolDown', { studentId: idOf(who), lookOver }),
    refer: (who: Who) =>
      tell(house, told.referred(bibOf(who)), 'refer', {
        referralId: newId('referral') as ReferralId,
        studentId: idOf(who),
        to: 'screener',
      }),
  }
}

export const takeHeadcount = (house: House, zoneId: string, present: readonly string[]) =>
  tell(house, words.run.told.headcount, 'takeHeadcount', { zoneId: zoneId as ZoneId, present: present as StudentId[] })

/** The touch itself shows it. */
export const seeAtHeadcount = (house: House, zoneId: string, studentIds: readonly string[], seen: boolean) =>
  house.tell('seeAtHeadcount', { zoneId: zoneId as ZoneId, studentIds: studentIds as StudentId[], seen })
