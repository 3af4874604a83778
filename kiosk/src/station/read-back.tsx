import { useEffect, useState } from 'preact/hooks'
import type { StationStudent, StationView } from '@musterbook/day/views/station'
import ear from 'lucide-static/icons/ear-off.svg?raw'
import undoIcon from 'lucide-static/icons/undo-2.svg?raw'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { NumberPad } from '../parts/number-pad/number-pad.tsx'
import { SaidNotice } from '../parts/said-notice/said-notice.tsx'
import { figure } from '../words/figures.ts'
import { inFigures } from '../words/values.ts'
import { words } from '../words/words.ts'
import type { Saved, StationActs } from './acts.ts'
import { askAbout } from './asks.ts'
import { formOfProtocol, measured } from './value-entry.tsx'

interface Props {
  house: House
  view: StationView
  student: StationStudent
  saved: Saved
  acts: StationActs
  onForget: () => void
}

/** Real seconds in which one touch takes a slip back; its trace stays. */
const undoMs = 10_000

/** The value as it was kept, large enough to be turned to the student, with the two ways to say that it is not so. */
export function ReadBack({ house, view, student, saved, acts, onForget }: Props) {
  const found = findTry(student, saved)
  const [disputed, setDisputed] = useState(false)
  const isUndone = found?.status === 'void'
  if (found && found.status !== 'recorded' && !isUndone) return null
  const undo = () => {
    if (found)
      void acts.correct(words.station.told.undone(student.bib ?? '?'), student.studentId, found, { kind: 'void' }, words.station.undoReason)
  }

  return (
    <section class="read-back" aria-labelledby="read-back">
      <h2 id="read-back">{words.station.readBack}</h2>
      <p class="read-back-value figures" data-void={isUndone || undefined} data-long={saved.says.length > 9 || undefined}>
        {saysOf(saved, student, view)}
      </p>
      <Where house={house} saved={saved} known={found !== undefined} />
      {isUndone ? (
        <Undone view={view} student={student} saved={saved} acts={acts} onForget={onForget} />
      ) : (
        <div class="row">
          {found && <Undo since={saved.savedMs} onUndo={undo} />}
          {saved.outcome === 'good' && !disputed && (
            <Button
              icon={ear}
              onPress={() => {
                setDisputed(true)
                void acts.dispute(student, found?.attemptId ?? saved.attemptId, saved.observationId)
              }}
            >
              {words.station.notHeard}
            </Button>
          )}
          {disputed && <p role="status">{words.station.disputed}</p>}
        </div>
      )}
    </section>
  )
}

/** The try that it became: a second tablet's reading may have gone to the first one's. */
const findTry = (student: StationStudent, { observationId }: Saved) =>
  student.attempts.find((attempt) => attempt.observations.some((one) => one.observationId === observationId))

/** Percent fat is derived by the day and shown once the day has it. */
function saysOf(saved: Saved, student: StationStudent, view: StationView): string {
  const hundredths = findTry(student, saved)?.observations.find((one) => one.observationId === saved.observationId)?.percentFatHundredths
  if (view.protocol.kind !== 'skinfold' || typeof hundredths !== 'number') return saved.says
  return words.station.derived(figure(Math.floor((hundredths + 5) / 10) / 10, 1))
}

function Where({ house, saved, known }: { house: House; saved: Saved; known: boolean }) {
  const zone = house.day.value?.timeZone ?? 'UTC'
  const { told, says, at } = saved
  const version =
    told !== 'sending' && told.said === 'recorded'
      ? (told.body as { recorded?: { version?: number } } | undefined)?.recorded?.version
      : undefined
  if (known || version !== undefined) return <SaidNotice said="recorded" what={says} at={at} zone={zone} version={version} />
  if (told === 'sending') return <p role="status">{words.station.sentReading}</p>
  return <SaidNotice said="kept" what={says} at={at} zone={zone} />
}

function Undo({ since, onUndo }: { since: number; onUndo: () => void }) {
  const [now, tick] = useState(() => performance.now())
  const left = since + undoMs - now
  useEffect(() => {
    if (left <= 0) return
    const timer = setInterval(() => tick(performance.now()), 250)
    return () => clearInterval(timer)
  }, [left <= 0])
  if (left <= 0) return null
  return (
    <Button icon={undoIcon} onPress={onUndo} label={words.common.undo}>
      {words.station.undo(Math.ceil(left / 1000))}
    </Button>
  )
}

interface UndoneProps {
  view: StationView
  student: StationStudent
  saved: Saved
  acts: StationActs
  onForget: () => void
}

/** The first reading stays as void. The right value is a correction of the same try, so that no try is lost by a slip. */
function Undone({ view, student, saved, acts, onForget }: UndoneProps) {
  const { protocol } = view
  const found = findTry(student, saved)
  const isTyped = protocol.kind !== 'skinfold' && protocol.kind !== 'loaded'
  const form = formOfProtocol(protocol)
  const correct = (amount: number) => {
    if (!found) return
    onForget()
    void acts.correct(
      words.station.told.mended(student.bib ?? '?'),
      student.studentId,
      found,
      { kind: 'value', value: measured(protocol, amount) },
      words.station.retypedReason,
    )
  }
  const load = found?.load
  return (
    <div class="stack">
      <p role="status">
        <strong>{words.station.undone}</strong> {protocol.kind === 'skinfold' ? words.station.undoneNoValue : words.station.undoneHelp}
      </p>
      {isTyped && (
        <NumberPad
          {...form}
          label={words.station.rightValue}
          unit={form.sign}
          question={(padded) => askAbout(form.amountOf(padded), protocol, [])}
          onSave={(padded) => correct(form.amountOf(padded))}
        />
      )}
      <div class="row">
        {load && saved.outcome !== 'good' && (
          <Button kind="primary" size="key" onPress={() => correct(load.amount)}>
            {words.load.good}, {inFigures(load.amount, protocol.unit)}
          </Button>
        )}
        <Button onPress={onForget}>{words.station.leaveVoid}</Button>
      </div>
    </div>
  )
}
