import { useState } from 'preact/hooks'
import type { SafetyView } from '@musterbook/day/views/safety'
import type { RunnerView, StationView, WaveView } from '@musterbook/day/views/station'
import { shown, type House } from '../house/house.ts'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { LapPad } from '../parts/lap-pad/lap-pad.tsx'
import { LastTold, newId } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import { runActs } from './acts.ts'
import { HoldOverWave } from './hold-over-wave.tsx'
import { LastTouches } from './last-touches.tsx'
import { Recall } from './recall.tsx'
import { Questions } from './questions.tsx'
import { RunnerDialog } from './runner-dialog.tsx'
import { Runners } from './runners.tsx'
import { Elsewhere, isElsewhere, TakenFromHere } from './take-over.tsx'
import { isOut, nextCrossing, pending, touchesOf } from './touches.ts'
import { WaveClock } from './wave-clock.tsx'

interface Props {
  house: House
  view: StationView
  safety: SafetyView
  wave: WaveView
  name: string
}

/** One wave, from the gun to the last runner: one touch a lap, who is due next under the thumb. */
export function Wave({ house, view, safety, wave, name }: Props) {
  const [about, open] = useState<{ studentId: string; putIn: boolean } | null>(null)
  const touches = touchesOf(wave.waveId)
  const acts = runActs(house, view)
  const out = wave.runners.filter(isOut)
  const asked = wave.runners.find(({ studentId }) => studentId === about?.studentId)

  const cross = async (runner: RunnerView, finish = false) => {
    const next = nextCrossing(runner, touches.value)
    const observationId = newId('line')
    const line = finish ? 'finish' : next.line
    const { studentId, bib } = runner
    const elapsedMs = house.clock.siteNow() - wave.gunAt
    const told = acts.cross(wave.waveId, runner, observationId, line)
    touches.value = [...touches.value, { observationId, studentId, bib, elapsedMs, lap: next.lap, line, takenBack: false, told: 'sending' }]
    const outcome = await told
    touches.value = touches.value.map((touch) => (touch.observationId === observationId ? { ...touch, told: outcome } : touch))
  }
  const takeBack = (studentId: string, observationId?: string) => {
    const last = touches.value.findLast((touch) => touch.studentId === studentId && !touch.takenBack)
    const id = observationId ?? last?.observationId
    const runner = wave.runners.find((one) => one.studentId === studentId)
    if (!id || !runner) return
    touches.value = touches.value.map((touch) => (touch.observationId === id ? { ...touch, takenBack: true } : touch))
    void acts.takeBack(wave.waveId, runner, id)
  }

  return (
    <section class="wave" aria-label={name}>
      <WaveClock house={house} wave={wave} />
      <HoldOverWave safety={safety} view={view} wave={wave} />
      <div class="wave-touches">
        <Recall house={house} wave={wave} acts={acts} />
        <LastTouches house={house} wave={wave} touches={touches.value} protocol={view.protocol} />
      </div>
      <div class="wave-pad">
        <TakenFromHere house={house} wave={wave} acts={acts} />
        {isElsewhere(house, wave, touches.value.length) ? (
          <Elsewhere house={house} wave={wave} name={name} acts={acts} />
        ) : out.length > 0 ? (
          <LapPad
            now={house.clock.now}
            runners={out.map((runner) => ({
              student: shown(house, runner.studentId, runner.bib),
              state: 'running' as const,
              toGo: nextCrossing(runner, touches.value).toGo,
              expectedAt: expectedAt(wave, runner, pending(runner, touches.value).at(-1)?.elapsedMs),
              possibleMiss: runner.questions.some(({ kind }) => kind === 'possibleMissedCrossing'),
            }))}
            onCross={(studentId) => {
              const runner = out.find((one) => one.studentId === studentId)
              if (runner) void cross(runner)
            }}
            onUndo={takeBack}
          />
        ) : (
          <EmptyState says={words.run.nobodyOut} help={words.run.nobodyOutHelp} />
        )}
      </div>
      <div class="wave-asks stack">
        <Questions
          wave={wave}
          acts={acts}
          protocol={view.protocol}
          onPutIn={(studentId) => open({ studentId, putIn: true })}
          onTakeBack={takeBack}
        />
        <LastTold house={house} />
      </div>
      <Runners house={house} wave={wave} protocol={view.protocol} onMore={(studentId) => open({ studentId, putIn: false })} />
      {about && asked && (
        <RunnerDialog
          key={`${about.studentId}${about.putIn}`}
          house={house}
          protocol={view.protocol}
          wave={wave}
          runner={asked}
          putIn={about.putIn}
          acts={acts}
          onFinish={() => void cross(asked, true)}
          onClose={() => open(null)}
        />
      )}
    </section>
  )
}

/** Their own pace after the last crossing that is known here. */
function expectedAt(wave: WaveView, { predictedMs, crossings }: RunnerView, touchedMs: number | undefined): number | undefined {
  if (predictedMs === null) return undefined
  const last = Math.max(0, ...crossings.filter(({ ignored }) => ignored === null).map(({ elapsedMs }) => elapsedMs))
  return wave.gunAt + predictedMs + (touchedMs === undefined ? 0 : touchedMs - last)
}
