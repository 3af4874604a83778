import { useState } from 'preact/hooks'
import type { Evidence } from '@musterbook/replay/explain'
import type { Supposition } from '@musterbook/replay/what-if'
import { Button } from '../parts/button/button.tsx'
import { Field, Tick } from '../parts/field/field.tsx'
import { wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { placeIn, type Desk } from './desk.ts'

interface Props {
  desk: Desk
  touching: readonly Evidence[]
  onSuppose: (suppositions: readonly Supposition[]) => void
}

/** Entries about this student and test, those behind the seal too, to be left out or shifted. */
export function SupposeEntries({ desk, touching, onSuppose }: Props) {
  const [marked, mark] = useState<ReadonlySet<number>>(new Set())
  const [seconds, type] = useState('')
  const [isWrong, setWrong] = useState(false)
  const { whatIf: say } = words.replay
  const places = [...new Set(touching.map((one) => placeIn(desk.entries, one)))]
  const names = () => [...marked].map((place) => ({ stream: desk.entries[place]!.stream, version: desk.entries[place]!.version }))
  const done = (supposition: Supposition) => {
    mark(new Set())
    onSuppose([supposition])
  }
  const shift = () => {
    const ms = Math.round(Number(seconds.replace(',', '.').replace('−', '-')) * 1000)
    setWrong(!Number.isFinite(ms) || ms === 0)
    if (Number.isFinite(ms) && ms !== 0 && marked.size > 0) done({ kind: 'shift', entries: names(), ms })
  }
  return (
    <section class="sheet stack" aria-label={say.leave}>
      <h3>{say.leave}</h3>
      <p>{say.leaveHelp}</p>
      {places.map((place) => (
        <Tick
          key={place}
          checked={marked.has(place)}
          says={`${place + 1}: ${wallClock(desk.entries[place]!.recordedAt, desk.zone, true)} ${desk.says(place)}`}
          onChange={(isOn) => mark(new Set(isOn ? [...marked, place] : [...marked].filter((one) => one !== place)))}
        />
      ))}
      <div class="supervisor-pair">
        <Button onPress={() => marked.size > 0 && done({ kind: 'leaveOut', entries: names() })}>{say.leaveOut}</Button>
        <form class="stack" onSubmit={(event) => (event.preventDefault(), shift())}>
          <Field label={say.seconds} value={seconds} onInput={type} error={isWrong ? say.unread : undefined} />
          <Button type="submit">{say.shift}</Button>
        </form>
      </div>
    </section>
  )
}
