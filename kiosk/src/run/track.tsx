import { useState } from 'preact/hooks'
import type { SafetyView } from '@musterbook/day/views/safety'
import type { StationView, WaveView } from '@musterbook/day/views/station'
import type { House } from '../house/house.ts'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { words } from '../words/words.ts'
import { CoolDown } from './cool-down.tsx'
import { NextWave } from './next-wave.tsx'
import { isWaiting, ownGateOpen } from './ready.ts'
import { isOut } from './touches.ts'
import { Wave } from './wave.tsx'

interface Props {
  house: House
  view: StationView
  safety: SafetyView
}

/** What is due at the track, one touch apart: the next wave, each wave that is out, the cool-down. */
export function Track({ house, view, safety }: Props) {
  const open = view.waves.filter((wave) => wave.open)
  const [chosen, choose] = useState<string>(open.at(-1)?.waveId ?? 'next')
  // A gun that was called back leaves a wave of nobody.
  const ran = view.waves.filter(({ runners }) => runners.length > 0)
  const waves = ran.filter((wave) => wave.open || wave.waveId === chosen || wave === ran.at(-1))
  const wave = waves.find(({ waveId }) => waveId === chosen)
  const now = house.clock.now.value
  const waiting = view.students.filter(isWaiting)
  const ready = waiting.filter((student) => student.ready && !ownGateOpen(student, now)).length

  return (
    <div class="run">
      <Tabs
        label={words.run.parts}
        value={wave ? chosen : chosen === 'coolDown' ? chosen : 'next'}
        choices={[
          ...waves.map((one) => ({ value: one.waveId, says: nameOf(one, view.waves), detail: words.run.waveDetail(outIn(one)) })),
          { value: 'next', says: words.run.next, detail: words.run.nextDetail(ready, waiting.length - ready) },
          { value: 'coolDown', says: words.run.coolDown, detail: words.run.coolDownDetail(safety.coolingDown.length) },
        ]}
        onChange={choose}
      />
      {wave ? (
        <Wave key={wave.waveId} house={house} view={view} safety={safety} wave={wave} name={nameOf(wave, view.waves)} />
      ) : chosen === 'coolDown' ? (
        <CoolDown house={house} view={view} safety={safety} />
      ) : (
        <NextWave house={house} view={view} safety={safety} onStarted={choose} />
      )}
    </div>
  )
}

const nameOf = (wave: WaveView, all: readonly WaveView[]): string => words.run.waveN(all.indexOf(wave) + 1)
const outIn = (wave: WaveView): number => wave.runners.filter(isOut).length
