import { useEffect, useMemo, useState } from 'preact/hooks'
import { explain } from '@musterbook/replay/explain'
import { notOrdered } from '@musterbook/replay/moments'
import { happenedAt } from '@musterbook/vocabulary/envelope'
import type { StationId, StudentId } from '@musterbook/vocabulary/ids'
import { Button } from '../parts/button/button.tsx'
import { Choice, Field } from '../parts/field/field.tsx'
import { Mark } from '../parts/mark/mark.tsx'
import { StepSlider } from '../parts/step-slider/step-slider.tsx'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { isAbout, momentsOf, type MomentKind } from '../supervisor/moments.ts'
import { Stood } from '../supervisor/stood.tsx'
import { staffName, whoIs } from '../supervisor/who.ts'
import { wallClock } from '../words/figures.ts'
import { told } from '../words/telling.ts'
import { words } from '../words/words.ts'
import { Bands } from './bands.tsx'
import { AddExhibit } from './add-exhibit.tsx'
import { placeIn, type ByClock, type Desk } from './desk.ts'
import type { Place } from './replay-screen.tsx'
import { ThenNow } from './then-now.tsx'
import { Typed } from './typed.tsx'

interface Props {
  desk: Desk
  place: Place
  onGo: (change: Partial<Place>) => void
}

/** The day at one moment: what happened, what stood, and what is known of it now. */
export function MomentPart({ desk, place, onGo }: Props) {
  const [clock, chooseClock] = useState<ByClock>('recorded')
  const { entries, house } = desk
  const { replay: say } = words
  const { language, telling } = told.value
  const count = entries.length
  const inRecord = Math.min(place.position ?? count, count)
  const position = inRecord === 0 ? 0 : desk.positionOf(inRecord - 1, clock)
  const at = desk.placeOf(position, clock)
  const entry = at === undefined ? undefined : entries[at]
  const day = useMemo(() => desk.at(position, clock), [desk, position, clock])
  const step = (to: number) => onGo({ position: to === 0 ? 0 : (desk.placeOf(to, clock) ?? -1) + 1 })
  const says = (to: number): string => {
    const its = desk.placeOf(to, clock)
    const one = its === undefined ? undefined : entries[its]
    return one && its !== undefined
      ? `${wallClock(desk.timeOf(one, clock), desk.zone, true)} ${desk.says(its)}`
      : words.supervisor.replay.before
  }
  const uncertain = useMemo(() => (at === undefined ? [] : notOrdered(entries, at)), [entries, at])
  const moments = useMemo(() => momentsOf(entries), [entries])
  const marks = useMemo(
    () =>
      moments.map((moment) => ({
        position: desk.positionOf(moment.position - 1, clock),
        says: words.supervisor.replay.jumpKinds[moment.kind],
      })),
    [desk, moments, clock],
  )
  return (
    <div class="stack">
      <div class="supervisor-pair">
        <div class="stack">
          <Tabs
            label={say.clock}
            labelled
            value={clock}
            choices={(Object.keys(say.clocks) as ByClock[]).map((value) => ({ value, says: say.clocks[value] }))}
            onChange={(value) => chooseClock(value as ByClock)}
          />
          <p class="quiet">{say.clockHelp}</p>
        </div>
        <Play desk={desk} clock={clock} position={position} onStep={step} />
      </div>
      <StepSlider position={position} count={count} says={says(position)} onStep={step} marks={marks} />
      <Jumps desk={desk} place={place} position={inRecord} onGo={onGo} />
      {entry && (
        <section class="sheet stack" aria-label={words.supervisor.replay.whatHappened}>
          <h2>{words.supervisor.replay.entry((at ?? 0) + 1)}</h2>
          <p class="replay-told" lang={language} dir="auto">
            {desk.says(at ?? 0)}
          </p>
          <Typed house={house} events={entry.events} />
          <p lang={language} dir="auto">
            {telling.by(
              staffName(house, entry.meta.personId) || telling.nobody,
              desk.devices.get(entry.meta.deviceId) ?? entry.meta.deviceId,
            )}
          </p>
          <p class="quiet figures" lang={language} dir="auto">
            {telling.clocks(
              wallClock(happenedAt(entry.meta), desk.zone, true),
              entry.meta.bandMs,
              wallClock(entry.recordedAt, desk.zone, true),
            )}
          </p>
          {uncertain.length > 0 && (
            <>
              <Mark state="unknown" says={heldAmong([at!, ...uncertain], entries) ? telling.holdGoverns : telling.notCertain} />
              <p lang={language} dir="auto">
                {telling.notCertainHelp(uncertain.length)}
              </p>
              <Bands desk={desk} places={[at!, ...uncertain].slice(0, 12)} />
            </>
          )}
        </section>
      )}
      {entry && <ThenNow desk={desk} day={day} at={desk.timeOf(entry, clock)} studentId={place.studentId} />}
      {entry && <AddExhibit desk={desk} entries={inRecord} studentId={place.studentId} />}
      <Stood
        house={house}
        day={day}
        at={entry ? desk.timeOf(entry, clock) : 0}
        entries={entries}
        position={inRecord}
        devices={desk.devices}
        says={(to) => `${wallClock(entries[to - 1]?.recordedAt ?? 0, desk.zone, true)} ${desk.says(to - 1)}`}
        dayAfter={(to) => desk.at(to, 'recorded')}
        onStep={(to) => onGo({ position: to })}
      />
    </div>
  )
}

const heldAmong = (places: readonly number[], entries: Desk['entries']): boolean =>
  places.some((place) => entries[place]?.events.some(({ type }) => type === 'holdRaised'))

/** Lets the day go by at a speed, from where it stands. */
function Play({ desk, clock, position, onStep }: { desk: Desk; clock: ByClock; position: number; onStep: (to: number) => void }) {
  const [speed, choose] = useState('60')
  const [from, start] = useState<{ at: number; since: number } | undefined>(undefined)
  const { replay: say } = words
  const time = (to: number) => {
    const its = desk.placeOf(to, clock)
    const entry = its === undefined ? undefined : desk.entries[its]
    return entry ? desk.timeOf(entry, clock) : -Infinity
  }
  useEffect(() => {
    if (!from) return
    const timer = setInterval(() => {
      const now = from.at + (performance.now() - from.since) * Number(speed)
      let to = position
      while (to < desk.entries.length && time(to + 1) <= now) to++
      if (to !== position) onStep(to)
      if (to >= desk.entries.length) start(undefined)
    }, 250)
    return () => clearInterval(timer)
  }, [from, speed, position, clock, desk])
  const play = () => {
    const begins = position >= desk.entries.length ? 0 : position
    if (begins !== position) onStep(begins)
    start({ at: begins === 0 ? time(1) : time(begins), since: performance.now() })
  }
  return (
    <div class="replay-play">
      <Choice
        label={say.speed}
        value={speed}
        choices={Object.entries(say.speeds).map(([value, says]) => ({ value, says }))}
        onChange={(value) => {
          choose(value)
          if (from) start({ at: time(position), since: performance.now() })
        }}
      />
      <Button onPress={() => (from ? start(undefined) : play())}>{from ? say.pause : say.play}</Button>
    </div>
  )
}

type Stop = MomentKind | 'exceptions'

/** To a hold, a refusal, an exception, a correction, the seal; or on to what is about a student or a station. */
function Jumps({ desk, place, position, onGo }: Props & { position: number }) {
  const [kind, choose] = useState<Stop>('exceptions')
  const [typed, type] = useState('')
  const { entries, house } = desk
  const say = words.supervisor.replay
  const stops = useMemo(
    (): { position: number; kind: Stop }[] => [
      ...momentsOf(entries),
      ...entries.flatMap(({ events }, at) =>
        events.some(({ type }) => type === 'reviewOpened') ? [{ position: at + 1, kind: 'exceptions' as const }] : [],
      ),
    ],
    [entries],
  )
  const kinds: Record<Stop, string> = { ...say.jumpKinds, exceptions: words.replay.exceptions }
  const listed = useMemo(() => stops.filter((stop) => stop.kind === kind), [stops, kind])
  const { studentId, stationId } = place
  // A tap names its wave and not its station: what touches one student there is asked of the explanation.
  const ofBoth = useMemo(
    () =>
      studentId && stationId
        ? new Set(explain(desk.now, entries, studentId as StudentId, stationId as StationId)?.all.map((one) => placeIn(entries, one) + 1))
        : undefined,
    [desk, studentId, stationId],
  )
  const fitting = useMemo(
    () => entries.flatMap((entry, at) => ((ofBoth ? ofBoth.has(at + 1) : isAbout(entry, { studentId, stationId })) ? [at + 1] : [])),
    [entries, ofBoth, studentId, stationId],
  )
  const before = fitting.findLast((at) => at < position)
  const after = fitting.find((at) => at > position)
  const students = [...desk.now.students.values()]
  const here = String(listed.find((stop) => stop.position === position)?.position ?? '')
  // Hundreds of moments: drawn anew when they change, not at every step.
  const choices = useMemo(
    () => (
      <>
        <Choice
          label={say.jump}
          value={kind}
          choices={(Object.keys(kinds) as Stop[]).map((value) => ({
            value,
            says: `${kinds[value]} (${stops.filter((stop) => stop.kind === value).length})`,
          }))}
          onChange={(value) => choose(value as Stop)}
        />
        <Choice
          label={say.jumpTo}
          value={here}
          blank={listed.length === 0 ? say.noneSuch : say.jump}
          choices={listed.map((stop) => ({
            value: String(stop.position),
            says: `${wallClock(entries[stop.position - 1]!.recordedAt, desk.zone, true)} ${desk.says(stop.position - 1)}`,
          }))}
          onChange={(value) => value && onGo({ position: Number(value) })}
        />
        <Choice
          label={say.ofStudent}
          value={studentId}
          blank={say.any}
          choices={students.map((one) => ({ value: one.studentId, says: whoIs(house, one.studentId, one.bib) }))}
          onChange={(chosen) => onGo({ studentId: chosen })}
        />
        <Choice
          label={say.ofStation}
          value={stationId}
          blank={say.any}
          choices={(house.day.value?.stations ?? []).map((one) => ({ value: one.stationId, says: one.name }))}
          onChange={(chosen) => onGo({ stationId: chosen })}
        />
      </>
    ),
    [desk, kind, here, listed, studentId, stationId],
  )
  return (
    <section class="step-jump" aria-label={say.ways}>
      {choices}
      <div class="row step-fit">
        {before !== undefined && (
          <Button size="small" onPress={() => onGo({ position: before })}>
            {say.previousMatch}
          </Button>
        )}
        {after !== undefined && (
          <Button size="small" onPress={() => onGo({ position: after })}>
            {say.nextMatch}
          </Button>
        )}
      </div>
      <form
        class="row office-foot step-entry"
        onSubmit={(event) => {
          event.preventDefault()
          const to = Number(typed)
          if (typed.trim() !== '' && Number.isInteger(to) && to >= 0) onGo({ position: Math.min(to, entries.length) })
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
