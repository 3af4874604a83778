import { useState } from 'preact/hooks'
import type { StationStudent, StationView } from '@musterbook/day/views/station'
import turnIcon from 'lucide-static/icons/rotate-ccw-square.svg?raw'
import ear from 'lucide-static/icons/ear-off.svg?raw'
import type { House } from '../house/house.ts'
import { stands } from '../live/api.ts'
import { Button } from '../parts/button/button.tsx'
import { Mark } from '../parts/mark/mark.tsx'
import { SaidNotice } from '../parts/said-notice/said-notice.tsx'
import { figure } from '../words/figures.ts'
import { inFigures } from '../words/values.ts'
import { words } from '../words/words.ts'
import type { Saved, StationActs } from './acts.ts'
import { Turned } from './turned.tsx'
import { tryOf, Undo } from './undo.tsx'
import { measured } from './value-entry.tsx'

interface Props {
  house: House
  view: StationView
  student: StationStudent
  saved: Saved
  acts: StationActs
  onForget: () => void
  onSaveAgain: () => void
}

/** The value as it was kept, large enough to be turned to the student, with the two ways to say that it is not so. */
export function ReadBack({ house, view, student, saved, acts, onForget, onSaveAgain }: Props) {
  const found = tryOf(student, saved)
  const [disputed, setDisputed] = useState(false)
  const [turned, turn] = useState(false)
  const isUndone = found?.status === 'void'
  if (found && found.status !== 'recorded' && !isUndone) return null
  const says = saysOf(saved, student, view)
  const dispute = () => {
    setDisputed(true)
    void acts.dispute(student, found?.attemptId ?? saved.attemptId, saved.observationId)
  }

  return (
    <section class="read-back" aria-labelledby="read-back">
      <h2 id="read-back">{words.station.readBack}</h2>
      <p class="read-back-value figures" data-void={isUndone || undefined} data-long={says.length > 9 || undefined}>
        {says}
      </p>
      <Where house={house} saved={saved} known={found !== undefined && !house.outbox.waits(saved.observationId)} />
      {isUndone ? (
        <Undone view={view} student={student} saved={saved} acts={acts} onForget={onForget} />
      ) : (
        <div class="row">
          {saved.told !== 'sending' && saved.told.said === 'notKept' && <Button onPress={onSaveAgain}>{words.shell.saveAgain}</Button>}
          <Undo student={student} saved={saved} acts={acts} />
          <Button icon={turnIcon} onPress={() => turn(true)}>
            {words.station.turn}
          </Button>
          {saved.outcome === 'good' && !disputed && (
            <Button icon={ear} onPress={dispute}>
              {words.station.notHeard}
            </Button>
          )}
          {disputed && <p role="status">{words.station.disputed}</p>}
        </div>
      )}
      {turned && !isUndone && (
        <Turned
          bib={student.bib}
          says={says}
          disputed={disputed}
          onDispute={saved.outcome === 'good' ? dispute : undefined}
          onClose={() => turn(false)}
        />
      )}
    </section>
  )
}

/** Percent fat is derived by the day and shown once the day has it. */
function saysOf(saved: Saved, student: StationStudent, view: StationView): string {
  const seen = tryOf(student, saved)?.observations.find((one) => one.observationId === saved.observationId)
  const hundredths = seen?.percentFatHundredths
  if (view.protocol.kind !== 'skinfold' || typeof hundredths !== 'number') return saved.says
  return words.station.derived(figure(Math.floor((hundredths + 5) / 10) / 10, 1))
}

/** Kept on this tablet, or in the record: never the one for the other. */
function Where({ house, saved, known }: { house: House; saved: Saved; known: boolean }) {
  const zone = house.day.value?.timeZone ?? 'UTC'
  const { told, says, at } = saved
  const heard = told !== 'sending' && told.said === 'recorded' ? (told.body as { recorded?: { version?: number } } | undefined) : undefined
  const version = heard?.recorded?.version
  if (known || version !== undefined) return <SaidNotice said="recorded" what={says} at={at} zone={zone} version={version} />
  if (told === 'sending') return <p role="status">{words.station.sentReading}</p>
  // Anything else was said no to, beside it and with what next.
  return stands(told) ? <SaidNotice said="kept" what={says} at={at} zone={zone} /> : <Mark state="notMet" says={words.station.notSaved} />
}

/** A lift or a circuit undone. A missed lift that was good is put right with one more touch. */
function Undone({ view, student, saved, acts, onForget }: Omit<Props, 'house' | 'onSaveAgain'>) {
  const { protocol } = view
  const found = tryOf(student, saved)
  const load = found?.load
  const good = () => {
    if (!found || !load) return
    onForget()
    const what = words.station.told.mended(student.bib ?? '?')
    const value = measured(protocol, load.amount)
    void acts.correct(what, student.studentId, found, { kind: 'value', value }, words.station.retypedReason)
  }
  return (
    <div class="stack">
      <p role="status">
        <strong>{words.station.undone(saved.says)}</strong> {words.station.undoneNoValue}
      </p>
      <div class="row">
        {load && saved.outcome !== 'good' && (
          <Button kind="primary" onPress={good}>
            {words.load.good}, {inFigures(load.amount, protocol.unit)}
          </Button>
        )}
        <Button onPress={onForget}>{words.station.leaveVoid}</Button>
      </div>
    </div>
  )
}
