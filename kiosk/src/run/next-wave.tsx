import { useState } from 'preact/hooks'
import type { SafetyView } from '@musterbook/day/views/safety'
import type { StationStudent, StationView } from '@musterbook/day/views/station'
import { shown, type House } from '../house/house.ts'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Mark, Shape } from '../parts/mark/mark.tsx'
import { StudentCard } from '../parts/student-card/student-card.tsx'
import { shortDuration } from '../words/figures.ts'
import { FindByBib } from '../shell/find-by-bib.tsx'
import { sayNo } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import { runActs } from './acts.ts'
import { BriefRunners } from './brief-runners.tsx'
import { JoinByBib } from './join-by-bib.tsx'
import { isWaiting, ownGateOpen } from './ready.ts'
import { Start } from './start.tsx'

interface Props {
  house: House
  view: StationView
  safety: SafetyView
  onStarted: (waveId: string) => void
}

/** Who is ready runs unless left out; who may not start stands below with what is missing and who resolves it. */
export function NextWave({ house, view, safety, onStarted }: Props) {
  const [leftOut, leave] = useState<ReadonlySet<string>>(new Set())
  const now = house.clock.now.value
  const waiting = view.students.filter(isWaiting)
  const ready = waiting.filter((student) => !ownGateOpen(student, now))
  const runners = ready.filter(({ studentId }) => !leftOut.has(studentId))
  const acts = runActs(house, view)
  const toggle = (studentId: string) => {
    const next = new Set(leftOut)
    if (!next.delete(studentId)) next.add(studentId)
    leave(next)
  }

  /** Whoever steps up and is read runs; who stands in no line yet joins it, and who may not start hears why. */
  const linedUp = (student: StationStudent) => {
    const open = ownGateOpen(student, now)
    if (!waiting.includes(student)) void acts.join(student.studentId, student.bib ?? '?')
    else if (open) sayNo(house, open.says, open.who ? words.gates.resolver(open.who) : words.shell.tryAgain)
    else leave((before) => new Set([...before].filter((one) => one !== student.studentId)))
  }

  return (
    <div class="split run-next">
      <section class="stack" aria-labelledby="assemble">
        <h2 id="assemble">{words.run.assemble}</h2>
        <p role="status">{words.run.assembled(runners.length, ready.length)}</p>
        {ready.length === 0 ? (
          <EmptyState says={words.run.nobodyReady} help={words.run.nobodyReadyHelp} />
        ) : (
          <ul class="run-choices">
            {ready.map((student) => (
              <li key={student.studentId}>
                <Chosen house={house} student={student} runs={!leftOut.has(student.studentId)} onToggle={() => toggle(student.studentId)} />
              </li>
            ))}
          </ul>
        )}
        <NotReady house={house} waiting={waiting.filter((student) => !ready.includes(student))} now={now} />
        <FindByBib house={house} students={view.students} onFound={linedUp} />
        <JoinByBib bibs={safety.bibs} onJoin={acts.join} />
      </section>
      <div class="stack">
        <Start
          house={house}
          view={view}
          safety={safety}
          runners={runners}
          onStarted={onStarted}
          onLeaveOut={(bib) => {
            const student = waiting.find((one) => one.bib === bib)
            if (student) leave(new Set([...leftOut, student.studentId]))
          }}
        />
        <BriefRunners house={house} view={view} runners={runners} onBriefed={(studentIds) => void acts.brief(studentIds)} />
      </div>
    </div>
  )
}

interface ChosenProps {
  house: House
  student: StationStudent
  runs: boolean
  onToggle: () => void
}

function Chosen({ house, student, runs, onToggle }: ChosenProps) {
  const { name, lookAlike } = shown(house, student.studentId, student.bib)
  return (
    <button type="button" class="button run-choice" aria-pressed={runs} onClick={onToggle}>
      <Shape state={runs ? 'done' : 'pending'} />
      <span class="run-choice-bib figures">{student.bib ?? '?'}</span>
      <span class="run-choice-words">
        <span dir="auto">{name}</span>
        <span class="run-choice-state">{runs ? words.run.runs : words.run.leftOut}</span>
        {lookAlike && <span>{words.student.lookAlike}</span>}
      </span>
    </button>
  )
}

function NotReady({ house, waiting, now }: { house: House; waiting: readonly StationStudent[]; now: number }) {
  if (waiting.length === 0) return null
  return (
    <section class="stack" aria-labelledby="not-ready">
      <h3 id="not-ready">{words.run.notReady}</h3>
      <ul class="stack">
        {waiting.map((student) => {
          const open = ownGateOpen(student, now)
          return (
            <li key={student.studentId} class="run-not-ready">
              <StudentCard student={shown(house, student.studentId, student.bib)} />
              {open && (
                <p class="run-why">
                  <Mark
                    state={open.restUntil === null ? 'notMet' : 'waiting'}
                    says={open.restUntil === null ? open.says : words.run.restLeft(shortDuration(open.restUntil - now))}
                  />
                  {open.who && <strong>{words.gates.resolver(open.who)}</strong>}
                </p>
              )}
            </li>
          )
        })}
      </ul>
    </section>
  )
}
