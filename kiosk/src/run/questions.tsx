import { useState } from 'preact/hooks'
import type { RunnerView, StationView, WaveView } from '@musterbook/day/views/station'
import { Button } from '../parts/button/button.tsx'
import { Field } from '../parts/field/field.tsx'
import { Shape } from '../parts/mark/mark.tsx'
import { words } from '../words/words.ts'
import type { RunActs } from './acts.ts'
import { aboutTime, roundTime } from './figures.ts'

interface Props {
  wave: WaveView
  acts: RunActs
  protocol: StationView['protocol']
  onPutIn: (studentId: string) => void
  onTakeBack: (studentId: string, observationId: string) => void
}

type Question = RunnerView['questions'][number]

/** What only a person can settle: asked quietly, beside the pad, and never answered by itself. */
export function Questions({ wave, acts, protocol, onPutIn, onTakeBack }: Props) {
  const [settled, settle] = useState<readonly string[]>([])
  const laps = protocol.kind === 'run' ? protocol.details.track.laps : 0
  const asked = wave.runners.flatMap((runner) =>
    runner.questions.filter(({ key }) => !settled.includes(key)).map((question) => ({ runner, question })),
  )
  if (asked.length === 0) return null
  return (
    <ul class="stack" aria-live="polite">
      {asked.map(({ runner, question }) => (
        <li key={`${runner.studentId}${question.key}`} class="run-question">
          <p>
            <Shape state="review" />
            <strong>{sentence(question, runner, laps)}</strong>
          </p>
          {question.kind === 'possibleDoubleTap' ? (
            <div class="row">
              <Button onPress={() => onTakeBack(runner.studentId, question.key.slice(question.key.indexOf(':') + 1))}>
                {words.run.takeBackSecond}
              </Button>
              <Button
                onPress={() => {
                  settle([...settled, question.key])
                  void acts.answer('possibleDoubleTap', runner, sentence(question, runner, laps), 'twoCrossings', null)
                }}
              >
                {words.run.twoCrossings}
              </Button>
            </div>
          ) : (
            <Missed
              runner={runner}
              mayDismiss={question.kind === 'possibleMissedCrossing'}
              onPutIn={() => onPutIn(runner.studentId)}
              onDismiss={(reason) =>
                void acts.answer('possibleMissedCrossing', runner, sentence(question, runner, laps), 'dismissed', reason)
              }
            />
          )}
        </li>
      ))}
    </ul>
  )
}

function sentence(question: Question, { bib, laps: counted }: RunnerView, laps: number): string {
  const who = bib ?? '?'
  if (question.kind === 'finishDisagreesWithLaps') return `${words.run.missedAtFinish(who, counted, laps)} ${words.run.missedHelp}`
  if (question.kind === 'possibleDoubleTap') return words.run.doubleTap(who, roundTime(question.lapMs))
  return words.run.missed(who, roundTime(question.lapMs), aboutTime(question.ownPaceMs))
}

interface MissedProps {
  runner: RunnerView
  mayDismiss: boolean
  onPutIn: () => void
  onDismiss: (reason: string) => void
}

function Missed({ mayDismiss, onPutIn, onDismiss }: MissedProps) {
  const [asks, ask] = useState(false)
  const [reason, type] = useState('')
  if (!asks)
    return (
      <div class="row">
        <Button onPress={onPutIn}>{words.run.putIn}</Button>
        {mayDismiss && <Button onPress={() => ask(true)}>{words.run.dismiss}</Button>}
      </div>
    )
  return (
    <div class="stack">
      <div class="row" role="group" aria-label={words.run.whyNot}>
        {words.run.whyNots.map((why) => (
          <Button key={why} onPress={() => onDismiss(why)}>
            {why}
          </Button>
        ))}
      </div>
      <Field label={words.run.otherReason} value={reason} onInput={type} maxLength={200} optional />
      <div class="row">
        {reason.trim() !== '' && <Button onPress={() => onDismiss(reason.trim())}>{words.run.dismissSave}</Button>}
        <Button onPress={() => ask(false)}>{words.common.back}</Button>
      </div>
    </div>
  )
}
