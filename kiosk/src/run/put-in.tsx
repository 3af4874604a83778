import { useState } from 'preact/hooks'
import type { RunnerView, WaveView } from '@musterbook/day/views/station'
import type { House } from '../house/house.ts'
import { Choice } from '../parts/field/field.tsx'
import { NumberPad } from '../parts/number-pad/number-pad.tsx'
import { words } from '../words/words.ts'
import type { RunActs } from './acts.ts'
import { roundTime } from './figures.ts'

interface Props {
  house: House
  wave: WaveView
  runner: RunnerView
  acts: RunActs
  onDone: () => void
}

/** A person says that a crossing was missed, when about, and who saw it. Never put in by itself. */
export function PutIn({ house, wave, runner, acts, onDone }: Props) {
  const [witness, choose] = useState('')
  const question = runner.questions.find(({ kind }) => kind === 'possibleMissedCrossing')
  const proposed = question?.kind === 'possibleMissedCrossing' ? question.proposedAtMs : null
  const last = Math.max(0, ...runner.crossings.map(({ elapsedMs }) => elapsedMs))
  const most = runner.finishMs ?? Math.max(last, wave.open ? house.clock.siteNow() - wave.gunAt : last)
  return (
    <div class="put-in">
      <div class="stack">
        <p>{words.run.inferHelp}</p>
        <Choice
          label={words.run.witness}
          value={witness}
          blank={words.run.witnessNobody}
          choices={[...house.staff.value].map(([personId, name]) => ({ value: personId, says: name }))}
          onChange={choose}
        />
        <p class="quiet figures">{words.run.inferRange(roundTime(most))}</p>
      </div>
      <NumberPad
        label={words.run.inferAt}
        unit={words.run.inferUnit}
        shape="time"
        places={0}
        start={proposed === null ? '' : roundTime(proposed).replace(/\D/g, '')}
        save={words.run.inferSave}
        question={(seconds) => (seconds * 1000 < most ? undefined : words.run.inferRange(roundTime(most)))}
        onSave={(seconds) => {
          if (question) void acts.answer('possibleMissedCrossing', runner, words.run.inferTitle(runner.bib ?? '?'), 'putIn', null)
          void acts.infer(wave.waveId, runner, seconds * 1000, witness || null)
          onDone()
        }}
      />
    </div>
  )
}
