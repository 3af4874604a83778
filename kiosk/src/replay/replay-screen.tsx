import { useEffect, useMemo, useState } from 'preact/hooks'
import type { Imagined } from '@musterbook/replay/what-if'
import type { DayId } from '@musterbook/vocabulary/ids'
import type { Device } from '@musterbook/vocabulary/office'
import type { House } from '../house/house.ts'
import { useFetched } from '../office/fetched.ts'
import { Button } from '../parts/button/button.tsx'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Choice } from '../parts/field/field.tsx'
import { Progress } from '../parts/progress/progress.tsx'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { Shell } from '../shell/shell.tsx'
import { readEntries, type Entry } from '../supervisor/entries.ts'
import '../supervisor/supervisor.css'
import { told } from '../words/telling.ts'
import { words } from '../words/words.ts'
import { Cases } from './cases.tsx'
import { Compare } from './compare.tsx'
import { deskOf, toldIn } from './desk.ts'
import { MomentPart } from './moment.tsx'
import './replay.css'
import { ReaderLanguage } from './reader-language.tsx'
import { StudentPart } from './student.tsx'
import { StudyPart } from './study.tsx'
import { WhatIfPart } from './what-if.tsx'

type Part = keyof typeof words.replay.tabs
const parts: readonly Part[] = ['student', 'moment', 'whatIf', 'study', 'compare', 'cases']

/** What the desk stands at. The address keeps it, so that an interruption ends where it began. */
export interface Place {
  part: Part
  studentId: string
  stationId: string
  /** After so many entries of the record; null: the newest. */
  position: number | null
  caseId: string
}

/** The supervisor’s desk for what was: a day at any moment, a number down to its taps, and a case. */
export function ReplayScreen({ house }: { house: House }) {
  return (
    <Shell house={house} screen={words.replay.title} roles={['supervisor', 'coordinator', 'auditor']} englishOnly needsSite>
      {() => {
        const dayId = house.day.value?.dayId
        return dayId ? <Day key={dayId} house={house} dayId={dayId as DayId} /> : <EmptyState says={words.shell.reaching} />
      }}
    </Shell>
  )
}

/** Read once; then every moment is computed here. */
function Day({ house, dayId }: { house: House; dayId: DayId }) {
  const [entries, set] = useState<readonly Entry[] | undefined>(undefined)
  const [failed, fail] = useState(false)
  const [so, setSo] = useState(0)
  const head = Number(house.view('board').version.value ?? 0)
  const read = async (before: readonly Entry[]) => {
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
      <EmptyState says={words.replay.failed}>
        <Button onPress={() => void read(entries ?? [])}>{words.replay.again}</Button>
      </EmptyState>
    )
  if (!entries) return <Progress label={words.replay.loading} {...(head > 0 && { done: Math.min(so, head), of: head })} />
  const behind = head - entries.length
  return <DeskOf house={house} dayId={dayId} entries={entries} behind={behind} onMore={() => void read(entries)} />
}

interface Props {
  house: House
  dayId: DayId
  entries: readonly Entry[]
  behind: number
  onMore: () => void
}

function DeskOf({ house, dayId, entries, behind, onMore }: Props) {
  const registered = useFetched<Device[]>(house, '/api/office/devices')
  const devices = useMemo(
    () => new Map((registered.value ?? []).map(({ deviceId, name }) => [deviceId as string, name])),
    [registered.value],
  )
  const untold = useMemo(() => deskOf(house, dayId, entries, devices), [house, dayId, entries, devices])
  const { telling } = told.value
  const desk = useMemo(() => toldIn(untold, telling), [untold, telling])
  const [place, setPlace] = useState<Place>(() => placeOf(location.hash))
  const [imagined, imagine] = useState<Imagined | undefined>(undefined)
  const go = (change: Partial<Place>) => setPlace((before) => ({ ...before, ...change }))
  // The address follows where the slider comes to rest: to write it costs more than a step.
  useEffect(() => {
    const timer = setTimeout(() => history.replaceState(null, '', `${location.search}${hashOf(place)}`), 200)
    return () => clearTimeout(timer)
  }, [place])
  const last = entries.at(-1)
  return (
    <div class="stack">
      <div class="supervisor-top">
        <Tabs
          label={words.replay.parts}
          value={place.part}
          choices={parts.map((value) => ({ value, says: words.replay.tabs[value] }))}
          onChange={(part) => go({ part: part as Part })}
        />
        <ReaderLanguage />
        {house.days.value.length > 1 && <ChooseDay house={house} />}
      </div>
      {behind > 0 && (
        <div class="row">
          <Button size="small" onPress={onMore}>
            {words.supervisor.replay.newEntries(behind)}
          </Button>
        </div>
      )}
      {place.part === 'student' && <StudentPart desk={desk} place={place} onGo={go} />}
      {place.part === 'moment' && <MomentPart desk={desk} place={place} onGo={go} />}
      {place.part === 'whatIf' && <WhatIfPart desk={desk} place={place} onGo={go} imagined={imagined} onImagine={imagine} />}
      {place.part === 'study' && <StudyPart desk={desk} />}
      {place.part === 'compare' && <Compare desk={desk} place={place} imagined={imagined} />}
      {place.part === 'cases' && <Cases desk={desk} place={place} onGo={go} />}
      {last && <p class="quiet replay-head">{words.replay.head(entries.length, last.hash)}</p>}
    </div>
  )
}

function ChooseDay({ house }: { house: House }) {
  const { supervisor } = words
  return (
    <Choice
      label={supervisor.chooseDay}
      value={house.day.value?.dayId ?? ''}
      choices={house.days.value.map((day) => ({ value: day.dayId, says: `${day.title}, ${day.date}, ${supervisor.dayState[day.state]}` }))}
      onChange={(dayId) => location.assign(`${location.pathname}?day=${encodeURIComponent(dayId)}`)}
    />
  )
}

const hashOf = ({ part, studentId, stationId, position, caseId }: Place): string =>
  `#${new URLSearchParams({ part, studentId, stationId, position: position === null ? '' : String(position), caseId }).toString()}`

function placeOf(hash: string): Place {
  const said = new URLSearchParams(hash.slice(1))
  const position = Number(said.get('position') || NaN)
  return {
    part: parts.find((one) => one === said.get('part')) ?? 'student',
    studentId: said.get('studentId') ?? '',
    stationId: said.get('stationId') ?? '',
    position: Number.isInteger(position) ? position : null,
    caseId: said.get('caseId') ?? '',
  }
}
