import { useEffect, useMemo, useState } from 'preact/hooks'
import type { BoardView } from '@musterbook/day/views/board'
import { happenedAt } from '@musterbook/vocabulary/envelope'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Choice, Field } from '../parts/field/field.tsx'
import { Progress } from '../parts/progress/progress.tsx'
import { StepSlider } from '../parts/step-slider/step-slider.tsx'
import { shortDuration, wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { readEntries, tapeOf, type Entry } from './entries.ts'
import { isAbout, momentsOf, type MomentKind } from './moments.ts'
import { sentencesOf } from './sentences.ts'
import { Stood } from './stood.tsx'
import { deviceNames, staffName, whoIs } from './who.ts'

/** Reads the whole day once, then stands at any of its moments without asking the site again. */
export function StepBack({ house }: { house: House }) {
  const [entries, set] = useState<readonly Entry[] | undefined>(undefined)
  const [failed, fail] = useState(false)
  const [so, setSo] = useState(0)
  const { replay: say } = words.supervisor
  const dayId = house.day.value?.dayId
  const read = async (before: readonly Entry[]) => {
    if (!dayId) return
    fail(false)
    const more = await readEntries(house, dayId, before.length, setSo)
    if (more) set([...before, ...more])
    else fail(true)
  }
  useEffect(() => {
    void read([])
  }, [dayId])
  if (failed)
    return (
      <EmptyState says={say.failed}>
        <Button onPress={() => void read([])}>{say.again}</Button>
      </EmptyState>
    )
  if (!entries || !dayId) return <Progress label={`${say.loading}: ${so}`} />
  return <Stepper house={house} dayId={dayId} entries={entries} onMore={() => void read(entries)} />
}

interface Props {
  house: House
  dayId: string
  entries: readonly Entry[]
  onMore: () => void
}

function Stepper({ house, dayId, entries, onMore }: Props) {
  const tape = useMemo(() => tapeOf(dayId, entries), [dayId, entries])
  const moments = useMemo(() => momentsOf(entries), [entries])
  const devices = deviceNames(house)
  const [position, step] = useState(entries.length)
  const { replay: say } = words.supervisor
  const zone = house.day.value?.timeZone ?? 'UTC'
  const says = (at: number): string => {
    const entry = entries[at - 1]
    if (!entry) return say.before
    return `${wallClock(entry.recordedAt, zone, true)} ${sentencesOf(entry, tape.at(at), house, devices).join(' ')}`
  }
  const entry = entries[position - 1]
  const day = tape.at(position)
  const newest = Number(house.view<BoardView>('board').version.value ?? 0)
  const behind = newest - entries.filter(({ stream }) => stream.startsWith('day/')).length

  return (
    <div class="stack">
      <h2>{say.title}</h2>
      <StepSlider
        position={position}
        count={entries.length}
        says={says(position)}
        onStep={step}
        marks={moments.map((moment) => ({ position: moment.position, says: words.supervisor.replay.jumpKinds[moment.kind] }))}
      />
      {behind > 0 && (
        <div class="row">
          <Button size="small" onPress={onMore}>
            {say.newEntries(behind)}
          </Button>
        </div>
      )}
      <Jump house={house} entries={entries} position={position} moments={moments} says={says} onStep={step} />
      {entry && (
        <section class="sheet stack" aria-label={say.whatHappened}>
          <h3>
            {say.entry(position)}
            {entry.stream.startsWith('after/') && `, ${say.afterSeal}`}
          </h3>
          {sentencesOf(entry, day, house, devices).map((sentence, at) => (
            <p key={at}>{sentence}</p>
          ))}
          <p>
            {say.by(
              entry.meta.personId ? staffName(house, entry.meta.personId) : say.nobody,
              devices.get(entry.meta.deviceId) ?? entry.meta.deviceId,
            )}
          </p>
          <p class="quiet figures">
            {say.clocks(wallClock(happenedAt(entry.meta), zone, true), wallClock(entry.recordedAt, zone, true))};{' '}
            {say.deviceClock(wallClock(entry.meta.occurredAt, zone, true), signed(entry.meta.offsetMs), shortOrMs(entry.meta.bandMs))}
          </p>
          <Typed key={position} house={house} entry={entry} />
        </section>
      )}
      <Stood
        house={house}
        day={day}
        at={entry?.recordedAt ?? 0}
        entries={entries}
        position={position}
        devices={devices}
        says={says}
        onStep={step}
      />
    </div>
  )
}

const shortOrMs = (milliseconds: number): string => (milliseconds < 1000 ? `${Math.round(milliseconds)} ms` : shortDuration(milliseconds))
const signed = (milliseconds: number): string => `${milliseconds < 0 ? '−' : ''}${shortOrMs(Math.abs(milliseconds))}`

/** Words that somebody typed lie sealed: they are opened one by one, by whoever asks. */
function Typed({ house, entry }: { house: House; entry: Entry }) {
  const [texts, set] = useState<readonly string[] | undefined>(undefined)
  const { replay: say } = words.supervisor
  const ids = [...JSON.stringify(entry.events).matchAll(/"textId":"([^"]+)"/g)].map(([, id]) => id!)
  if (ids.length === 0) return null
  const open = async () => {
    const heard = await Promise.all(ids.map((id) => house.api.get<{ text: string }>(`/api/texts/${encodeURIComponent(id)}`)))
    set(heard.map((one) => (one.said === 'recorded' ? `“${one.body.text}”` : say.wordsClosed)))
  }
  return texts ? (
    <>
      {texts.map((text) => (
        <p key={text} class="step-words">
          {text}
        </p>
      ))}
    </>
  ) : (
    <div class="row">
      <Button size="small" onPress={() => void open()}>
        {say.words}
      </Button>
    </div>
  )
}

interface JumpProps {
  house: House
  entries: readonly Entry[]
  position: number
  moments: ReturnType<typeof momentsOf>
  says: (position: number) => string
  onStep: (position: number) => void
}

/** To a hold, a refusal, a correction, the seal; to what was about one student or station; to an entry by its number. */
function Jump({ house, entries, position, moments, says, onStep }: JumpProps) {
  const [kind, choose] = useState<MomentKind>('holds')
  const [about, setAbout] = useState({ studentId: '', stationId: '' })
  const [typed, type] = useState('')
  const { replay: say } = words.supervisor
  const board = house.view<BoardView>('board').view.value
  const listed = moments.filter((moment) => moment.kind === kind)
  const fitting = (from: number, by: 1 | -1) => {
    for (let at = from + by; at >= 1 && at <= entries.length; at += by) if (isAbout(entries[at - 1]!, about)) return at
    return undefined
  }
  const previous = fitting(position, -1)
  const next = fitting(position, 1)
  return (
    <section class="step-jump" aria-label={say.ways}>
      <Choice
        label={say.jump}
        value={kind}
        choices={(Object.keys(say.jumpKinds) as MomentKind[]).map((value) => ({
          value,
          says: `${say.jumpKinds[value]} (${moments.filter((moment) => moment.kind === value).length})`,
        }))}
        onChange={(value) => choose(value as MomentKind)}
      />
      <Choice
        label={say.jumpTo}
        value={String(listed.find((moment) => moment.position === position)?.position ?? '')}
        blank={listed.length === 0 ? say.noneSuch : say.jump}
        choices={listed.map((moment) => ({ value: String(moment.position), says: says(moment.position) }))}
        onChange={(value) => value && onStep(Number(value))}
      />
      <Choice
        label={say.ofStudent}
        value={about.studentId}
        blank={say.any}
        choices={(board?.students ?? []).map(({ studentId, bib }) => ({ value: studentId, says: whoIs(house, studentId, bib) }))}
        onChange={(studentId) => setAbout({ ...about, studentId })}
      />
      <Choice
        label={say.ofStation}
        value={about.stationId}
        blank={say.any}
        choices={(house.day.value?.stations ?? []).map(({ stationId, name }) => ({ value: stationId, says: name }))}
        onChange={(stationId) => setAbout({ ...about, stationId })}
      />
      <div class="row">
        <Button size="small" onPress={() => previous && onStep(previous)}>
          {say.previousMatch}
        </Button>
        <Button size="small" onPress={() => next && onStep(next)}>
          {say.nextMatch}
        </Button>
      </div>
      <form
        class="row office-foot"
        onSubmit={(event) => {
          event.preventDefault()
          const to = Number(typed)
          if (Number.isInteger(to) && to >= 0) onStep(Math.min(to, entries.length))
        }}
      >
        <Field label={say.byVersion} inputMode="numeric" value={typed} onInput={type} />
        <Button type="submit" size="small">
          {say.go}
        </Button>
      </form>
    </section>
  )
}
