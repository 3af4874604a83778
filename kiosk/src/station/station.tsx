import { useEffect, useMemo, useState } from 'preact/hooks'
import type { StationStudent, StationView } from '@musterbook/day/views/station'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import type { House } from '../house/house.ts'
import { FindByBib } from '../shell/find-by-bib.tsx'
import { lastTold, newId } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import { RefusedHere, ToldHere } from './answer.tsx'
import { stationActs, type OpenTry, type Read, type Saved } from './acts.ts'
import { Before } from './before.tsx'
import { Entry } from './entry.tsx'
import { Line } from './line.tsx'
import { mustRetype, Retype } from './retype.tsx'
import { Switch } from './switch.tsx'
import { UndoElsewhere } from './undo.tsx'

interface Props {
  house: House
  view: StationView
  onSwitch: (stationId: string | null) => void
}

/** The line on the left; beside it the chosen student: before a start, in a try, and what was read. */
export function Station({ house, view, onSwitch }: Props) {
  const acts = useMemo(() => stationActs(house, view), [house, view])
  const [chosenId, choose] = useKept(`musterbook.station.${view.dayId}.${view.stationId}`)
  const [open, setOpen] = useState<OpenTry | null>(null)
  const [saved, save] = useState<Saved | null>(null)
  // Nobody chosen: whoever comes first in the line.
  const student = view.students.find((one) => one.studentId === (open?.studentId ?? chosenId)) ?? view.students.find(isNext)
  const savedStudent = view.students.find((one) => one.studentId === saved?.studentId)
  const mending = saved && student && saved.studentId === student.studentId && mustRetype(student, saved, view)
  const running = student && (open?.studentId === student.studentId ? open : runningTry(student, saved))

  const pick = (studentId: string) => {
    setOpen(null)
    choose(studentId)
  }
  const record = async (who: StationStudent, tried: OpenTry, read: Read) => {
    const observationId = newId('observation')
    const at = house.clock.siteNow()
    const { studentId } = who
    const what = words.station.told.recorded(who.bib ?? '?', read.says)
    const kept = { studentId, attemptId: tried.attemptId, observationId, outcome: read.outcome, says: read.says, what, at }
    const savedMs = performance.now()
    setOpen(null)
    choose(studentId)
    const tell = async () => {
      save({ ...kept, savedMs, told: 'sending', again: tell })
      const told = await acts.record(who, tried, observationId, read)
      save((now) => (now?.observationId === observationId ? { ...kept, savedMs, told, again: tell } : now))
    }
    await tell()
  }

  return (
    <div class="station">
      <div class="station-side">
        <Switch house={house} stationId={view.stationId} onSwitch={onSwitch} />
        <FindByBib house={house} students={view.students} onFound={({ studentId }) => pick(studentId)} />
        <Line house={house} view={view} acts={acts} chosen={student?.studentId ?? null} onChoose={pick} />
        <ToldHere house={house} quiet={saved !== null && savedStudent === student && !running && lastTold.value?.what === saved.what}>
          {saved && savedStudent && savedStudent !== student && (
            <UndoElsewhere student={savedStudent} saved={saved} acts={acts} onUndo={() => pick(saved.studentId)} />
          )}
        </ToldHere>
      </div>
      <div class="station-main">
        {!student ? (
          <>
            <RefusedHere house={house} />
            <EmptyState says={words.station.nobodyChosen} help={words.station.nobodyChosenHelp} />
          </>
        ) : mending && saved ? (
          <Retype house={house} view={view} student={student} saved={saved} acts={acts} onForget={() => save(null)} />
        ) : running ? (
          <Entry
            key={running.attemptId}
            house={house}
            view={view}
            student={student}
            tried={running}
            acts={acts}
            onTouch={() => open ?? setOpen(running)}
            onRead={(read) => void record(student, running, read)}
            onRelease={() => {
              setOpen(null)
              void acts.release(student, running.attemptId)
            }}
            onLeave={() => setOpen(null)}
          />
        ) : (
          <Before
            key={student.studentId}
            house={house}
            view={view}
            student={student}
            acts={acts}
            saved={saved?.studentId === student.studentId ? saved : null}
            onOpen={(tried) => {
              choose(student.studentId)
              setOpen(tried)
            }}
            onForget={() => save(null)}
            onSaveAgain={() => void saved?.again()}
          />
        )}
      </div>
    </div>
  )
}

/** Offered by itself: whoever is under way or called up here, else whoever may start and has waited longest. */
const isNext = ({ place, ready }: StationStudent): boolean => place === 'underWay' || place === 'called' || (place === 'waiting' && ready)

/** A try that is under way on any tablet of this station, and not over here: what was just saved may not have reached the day yet. */
function runningTry(student: StationStudent, saved: Saved | null): OpenTry | null {
  const found = student.attempts.find((attempt) => attempt.status === 'underWay')
  if (!found || found.attemptId === saved?.attemptId) return null
  const { attemptId, official, number, load } = found
  return { studentId: student.studentId, attemptId, official, number, load }
}

/** Who was chosen, through a reload: an interruption ends at the interrupted step. */
function useKept(key: string): [string | null, (value: string | null) => void] {
  const [value, set] = useState(() => sessionStorage.getItem(key))
  useEffect(() => {
    if (value === null) sessionStorage.removeItem(key)
    else sessionStorage.setItem(key, value)
  }, [key, value])
  return [value, set]
}
