import { useState } from 'preact/hooks'
import type { StationStudent, StationView } from '@musterbook/day/views/station'
import type { SafetyView } from '@musterbook/day/views/safety'
import userPlus from 'lucide-static/icons/user-plus.svg?raw'
import { shown, type House } from '../house/house.ts'
import { gateSays } from '../house/sentence.ts'
import { Button } from '../parts/button/button.tsx'
import { Dialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { Rotation } from './rotation.tsx'
import { Mark, Shape } from '../parts/mark/mark.tsx'
import { NumberPad } from '../parts/number-pad/number-pad.tsx'
import { sayNo } from '../shell/shell.tsx'
import { shortDuration } from '../words/figures.ts'
import { words } from '../words/words.ts'
import type { StationActs } from './acts.ts'

interface LineProps {
  house: House
  view: StationView
  acts: StationActs
  chosen: string | null
  onChoose: (studentId: string) => void
}

const groups = ['underWay', 'called', 'ready', 'notReady', 'others'] as const
type Group = (typeof groups)[number]

/** Who stands at this station, in the order in which they come; one touch chooses one. */
export function Line({ house, view, acts, chosen, onChoose }: LineProps) {
  const of = (group: Group) => view.students.filter((student) => groupOf(student) === group)
  const inLine = groups.slice(0, 4).filter((group) => of(group).length > 0)
  return (
    <section class="line" aria-labelledby="line">
      <h2 id="line">{words.station.line}</h2>
      <Rotation house={house} view={view} />
      <JoinByBib house={house} acts={acts} onChoose={onChoose} />
      {inLine.length === 0 && <p>{words.station.nobody}</p>}
      {inLine.map((group) => (
        <Places key={group} group={group} students={of(group)} house={house} chosen={chosen} onChoose={onChoose} />
      ))}
      {of('others').length > 0 && (
        <details class="line-others">
          <summary>
            {words.station.lineGroups.others} ({of('others').length})
          </summary>
          <Places group="others" students={of('others')} house={house} chosen={chosen} onChoose={onChoose} />
        </details>
      )}
    </section>
  )
}

function groupOf({ place, ready }: StationStudent): Group {
  if (place === 'underWay' || place === 'called') return place
  if (place === 'waiting') return ready ? 'ready' : 'notReady'
  return 'others'
}

interface PlacesProps {
  group: Group
  students: readonly StationStudent[]
  house: House
  chosen: string | null
  onChoose: (studentId: string) => void
}

function Places({ group, students, house, chosen, onChoose }: PlacesProps) {
  return (
    <div class="line-group">
      {group !== 'others' && <h3>{words.station.lineGroups[group]}</h3>}
      <ul>
        {students.map((student) => (
          <li key={student.studentId}>
            <button
              type="button"
              class="line-place"
              aria-current={student.studentId === chosen ? 'true' : undefined}
              onClick={() => onChoose(student.studentId)}
            >
              <Who house={house} student={student} />
              <Why house={house} student={student} group={group} />
            </button>
          </li>
        ))}
      </ul>
    </div>
  )
}

function Who({ house, student }: { house: House; student: StationStudent }) {
  const { name, bib, lookAlike } = shown(house, student.studentId, student.bib)
  return (
    <>
      {bib && (
        <span class="student-bib figures">
          <span class="spoken">{words.student.bib} </span>
          {bib}
        </span>
      )}
      <span class="line-name" dir="auto">
        {name}
      </span>
      {lookAlike && <span class="line-alike">{words.student.lookAlike}</span>}
    </>
  )
}

/** How long they wait, or the first thing that stands in the way. */
function Why({ house, student, group }: { house: House; student: StationStudent; group: Group }) {
  const { place, waitingSince, calledSince } = student
  const now = house.clock.now.value
  const open = place === 'underWay' ? undefined : student.gates.find((gate) => gate.state !== 'met' && gate.gate !== 'rest')
  return (
    <span class="line-why figures">
      {place === 'underWay' && <Mark state="underWay" />}
      {place === 'called' && <Mark state="called" says={words.station.calledSince(shortDuration(now - (calledSince ?? now)))} />}
      {place === 'waiting' && <Mark state="waiting" says={words.station.waited(shortDuration(now - (waitingSince ?? now)))} />}
      {place === 'done' && <Mark state="done" says={words.station.triesUsed(student.triesUsed, student.tries)} />}
      {open && group !== 'others' && (
        <span class="line-gate">
          <Shape state={open.state} /> {gateSays(open).says}
        </span>
      )}
    </span>
  )
}

function JoinByBib({ house, acts, onChoose }: Pick<LineProps, 'house' | 'acts' | 'onChoose'>) {
  const [open, setOpen] = useState(false)
  const bibs = house.view<SafetyView>('safety').view.value?.bibs ?? {}
  const join = (bib: string) => {
    setOpen(false)
    const studentId = bibs[bib]
    if (!studentId) return sayNo(house, words.shell.nobodyWears(bib), words.shell.nobodyWearsNext)
    onChoose(studentId)
    void acts.join(studentId, bib)
  }
  return (
    <>
      <Button icon={userPlus} wide onPress={() => setOpen(true)}>
        {words.station.joinBib}
      </Button>
      <Dialog title={words.station.joinTitle} open={open} onClose={() => setOpen(false)}>
        <NumberPad
          label={words.student.bib}
          unit=""
          places={0}
          most={4}
          save={words.station.join}
          listening
          onSave={(bib) => join(String(bib))}
        />
      </Dialog>
    </>
  )
}
