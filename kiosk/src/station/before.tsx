import { useState } from 'preact/hooks'
import type { StationStudent, StationView } from '@musterbook/day/views/station'
import type { Measured } from '@musterbook/vocabulary/measured'
import type { House } from '../house/house.ts'
import { stands } from '../live/api.ts'
import { Button } from '../parts/button/button.tsx'
import { Choice } from '../parts/field/field.tsx'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { lastTold, newId } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import type { OpenTry, Saved, StationActs } from './acts.ts'
import { RefusedHere, refusedRule } from './answer.tsx'
import { Differs } from './differs.tsx'
import { Gates } from './gates.tsx'
import { LoadBar } from './load-bar.tsx'
import { AskedHere, OnTheWay, useAsks } from './on-the-way.tsx'
import { ReadBack } from './read-back.tsx'
import { RestLeft } from './rest-left.tsx'
import { Told } from './told.tsx'
import { Tries } from './tries.tsx'
import { EarlyReason } from './early-reason.tsx'

interface Props {
  house: House
  view: StationView
  student: StationStudent
  acts: StationActs
  saved: Saved | null
  onOpen: (tried: OpenTry) => void
  onForget: () => void
  onSaveAgain: () => void
}

/** Before a start: who it is, every gate, practice or official, and the one key that starts. The day decides, not this screen. */
export function Before({ house, view, student, acts, saved, onOpen, onForget, onSaveAgain }: Props) {
  const [official, setOfficial] = useState(true)
  const [observerId, nameObserver] = useState('')
  const asks = useAsks(house, view, student, acts)
  const { protocol } = view
  const number = official ? student.triesUsed + 1 : 0

  const startWith = async (load: Measured | null, keptLoad: boolean, earlyBecause: string | null) => {
    const tried = { studentId: student.studentId, attemptId: newId('attempt'), official, number, load, keptLoad }
    const outcome = await acts.start(student, tried.attemptId, { official, load, observerId: observerId || null, earlyBecause })
    if (stands(outcome)) onOpen(tried)
  }
  const start = (load: Measured | null = null, keptLoad = false) => asks.then(() => void startWith(load, keptLoad, null))
  /** It happened although nobody could start it: the record is never gated. */
  const recordUnseen = () => {
    lastTold.value = undefined
    onOpen({ studentId: student.studentId, attemptId: newId('attempt'), official, number: 0, load: null })
  }
  const rule = refusedRule()
  const readBack = saved && (
    <ReadBack house={house} view={view} student={student} saved={saved} acts={acts} onForget={onForget} onSaveAgain={onSaveAgain} />
  )

  return (
    <div class="work">
      <div class="work-told">
        <Told house={house} view={view} student={student} says={saysOf(official, number, student.tries)} />
        {protocol.kind === 'loaded' && readBack}
        <Tabs
          label={words.station.kindOfTry}
          labelled
          value={official ? 'official' : 'practice'}
          choices={[
            { value: 'official', says: words.station.official },
            { value: 'practice', says: words.station.practice },
          ]}
          onChange={(kind) => setOfficial(kind === 'official')}
        />
        {student.observerNeeded && (
          <Choice
            label={words.station.observer}
            value={observerId}
            blank={words.station.observerBlank}
            choices={[...house.staff.value].map(([value, says]) => ({ value, says }))}
            onChange={nameObserver}
          />
        )}
        {protocol.minimumRestMs > 0 && <RestLeft house={house} until={student.restOverAt} />}
        {protocol.kind !== 'loaded' && <StartKey student={student} acts={acts} number={number} onStart={() => start()} />}
        <OnTheWay view={view} student={student} acts={acts} />
        <Tries house={house} view={view} student={student} acts={acts} onSecond={onOpen} />
      </div>
      <div class="work-main">
        <RefusedHere house={house}>
          {(rule === 'restNotOver' || rule === 'notBriefed') && protocol.kind !== 'loaded' && (
            <EarlyReason onStart={(reason) => void startWith(null, false, reason)} />
          )}
          {rule !== null && lastTold.value?.what === words.station.told.started(student.bib ?? '?') && (
            <Button kind="quiet" detail={words.station.happenedHelp} onPress={recordUnseen}>
              {words.station.happenedAlready}
            </Button>
          )}
        </RefusedHere>
        <AskedHere house={house} view={view} student={student} acts={acts} asks={asks} />
        <Differs view={view} student={student} acts={acts} />
        {protocol.kind !== 'loaded' && readBack}
        {protocol.kind === 'loaded' && (
          <LoadBar
            house={house}
            student={student}
            acts={acts}
            protocol={protocol}
            early={rule === 'restNotOver' || rule === 'notBriefed'}
            onStart={start}
            onEarly={(load, kept, reason) => void startWith(load, kept, reason)}
          />
        )}
        <Gates house={house} view={view} student={student} />
      </div>
    </div>
  )
}

interface StartKeyProps {
  student: StationStudent
  acts: StationActs
  number: number
  onStart: () => void
}

/** Called up first, where somebody stands in the line; then started. One main action at a time. */
function StartKey({ student, acts, number, onStart }: StartKeyProps) {
  if (student.place === 'waiting')
    return (
      <Button kind={student.ready ? 'primary' : 'normal'} size="key" wide onPress={() => void acts.callUp(student)}>
        {student.bib ? words.station.callUpBib(student.bib) : words.station.callUp}
      </Button>
    )
  return (
    <Button kind={student.ready ? 'primary' : 'normal'} size="key" wide onPress={onStart}>
      {number === 0
        ? words.station.startPractice
        : number > student.tries
          ? words.station.startBeyond
          : words.station.start(number, student.tries)}
    </Button>
  )
}

const saysOf = (official: boolean, number: number, tries: number): string =>
  !official ? words.station.practice : number > tries ? words.station.allUsed : words.station.tryOf(number, tries)
