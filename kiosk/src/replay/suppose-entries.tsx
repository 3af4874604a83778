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

/** Entries of this try, to be left out or shifted. Those behind the seal keep their own numbers and are not offered. */
export function SupposeEntries({ desk, touching, onSuppose }: Props) {
  const [marked, mark] = useState<ReadonlySet<number>>(new Set())
  const [seconds, type] = useState('')
  const [isWrong, setWrong] = useState(false)
  const { whatIf: say } = words.replay
  const versions = [...new Set(touching.filter((one) => one.stream.startsWith('day/')).map((one) => one.version))]
  const done = (supposition: Supposition) => {
    mark(new Set())
    onSuppose([supposition])
  }
  const shift = () => {
    const ms = Math.round(Number(seconds.replace(',', '.').replace('−', '-')) * 1000)
    setWrong(!Number.isFinite(ms) || ms === 0)
    if (Number.isFinite(ms) && ms !== 0 && marked.size > 0) done({ kind: 'shift', entries: [...marked], ms })
  }
  return (
    <section class="sheet stack" aria-label={say.leave}>
      <h3>{say.leave}</h3>
      <p>{say.leaveHelp}</p>
      {versions.map((version) => {
        const place = placeIn(desk.entries, { stream: `day/${desk.dayId}`, version })
        return (
          <Tick
            key={version}
            checked={marked.has(version)}
            says={`${version}: ${wallClock(desk.entries[place]!.recordedAt, desk.zone, true)} ${desk.says(place)}`}
            onChange={(isOn) => mark(new Set(isOn ? [...marked, version] : [...marked].filter((one) => one !== version)))}
          />
        )
      })}
      <div class="supervisor-pair">
        <Button onPress={() => marked.size > 0 && done({ kind: 'leaveOut', entries: [...marked] })}>{say.leaveOut}</Button>
        <form class="stack" onSubmit={(event) => (event.preventDefault(), shift())}>
          <Field label={say.seconds} value={seconds} onInput={type} error={isWrong ? say.unread : undefined} />
          <Button type="submit">{say.shift}</Button>
        </form>
      </div>
    </section>
  )
}
