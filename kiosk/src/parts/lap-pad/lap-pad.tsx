import { useEffect, useRef, useState } from 'preact/hooks'
import { shortDuration } from '../../words/figures.ts'
import { words } from '../../words/words.ts'
import { Button } from '../button/button.tsx'
import { read, type Live } from '../live.ts'
import { Mark } from '../mark/mark.tsx'
import type { StudentShown } from '../student-card/student-card.tsx'
import { inOrder, mayMove, type Runner } from './order.ts'
import './lap-pad.css'

export interface LapPadProps {
  runners: readonly (Runner & { student: StudentShown })[]
  /** The site's clock, on which `expectedAt` stands. */
  now: Live<number>
  /** One touch: this runner is on the line, now. */
  onCross: (studentId: string) => void
  /** Within ten seconds, takes the last tap of this runner back. The tap stays in the record. */
  onUndo: (studentId: string) => void
}

const undoMs = 10_000
/** After a touch the keys stay where they are for a moment: the next thumb is already on its way. */
const stillMs = 1_200

/** A key a runner, in the order in which they should come by. */
export function LapPad({ runners, now, onCross, onUndo }: LapPadProps) {
  const [tapped, setTapped] = useState<ReadonlyMap<string, number>>(new Map())
  const { order, settle, thumb } = useKeptOrder(runners, now)
  const running = order.filter(({ state }) => state === 'running')
  const others = order.filter(({ state }) => state !== 'running')

  const cross = (studentId: string) => {
    settle()
    setTapped(new Map(tapped).set(studentId, performance.now()))
    onCross(studentId)
  }
  const undo = (studentId: string) => {
    const rest = new Map(tapped)
    rest.delete(studentId)
    setTapped(rest)
    onUndo(studentId)
  }

  return (
    <div class="laps">
      <Undoing runners={order} tapped={tapped} onUndo={undo} />
      <ol
        class="laps-keys"
        aria-label={words.laps.runners}
        onPointerDown={() => thumb(true)}
        onPointerUp={() => thumb(false)}
        onPointerCancel={() => thumb(false)}
        onPointerLeave={() => thumb(false)}
      >
        {running.map((runner, i) => (
          <RunnerKey key={runner.student.id} runner={runner} first={i === 0} now={now} onCross={cross} />
        ))}
      </ol>
      {others.length > 0 && (
        <ul class="laps-others">
          {others.map(({ student, state }) => (
            <li key={student.id}>
              <span class="student-bib figures">{student.bib}</span>
              <Mark state={state === 'finished' ? 'done' : 'stopped'} says={state === 'finished' ? words.laps.finishedGroup : undefined} />
            </li>
          ))}
        </ul>
      )}
    </div>
  )
}

interface RunnerKeyProps {
  runner: Runner & { student: StudentShown }
  first: boolean
  now: Live<number>
  onCross: (studentId: string) => void
}

function RunnerKey({ runner, first, now, onCross }: RunnerKeyProps) {
  const { student, toGo, possibleMiss } = runner
  const bib = student.bib ?? student.name
  return (
    <li class="lap" data-first={first || undefined}>
      <button type="button" class="button button-key lap-key" onClick={() => onCross(student.id)}>
        <span class="lap-bib figures">{bib}</span>
        {student.bib && (
          <span class="lap-name" dir="auto">
            {student.name}
          </span>
        )}
        <span class="spoken">{words.laps.crossed} </span>
        <span class="lap-togo">{words.laps.toGo(toGo)}</span>
        <Expected at={runner.expectedAt} now={now} />
        {possibleMiss && <Mark state="review" says={words.laps.possibleMiss} />}
        {student.lookAlike && <span class="lap-alike">{words.student.lookAlike}</span>}
      </button>
    </li>
  )
}

function Expected({ at, now }: { at: number | undefined; now: Live<number> }) {
  if (at === undefined) return null
  const left = at - read(now)
  return (
    <span class="lap-expected figures">
      {left >= 0 ? words.laps.expected(shortDuration(left)) : words.laps.overdue(shortDuration(-left))}
    </span>
  )
}

interface UndoingProps {
  runners: readonly { student: StudentShown }[]
  tapped: ReadonlyMap<string, number>
  onUndo: (studentId: string) => void
}

/** The last touches that can still be taken back, newest first. Its room is kept while empty, so that no key moves when it fills. */
function Undoing({ runners, tapped, onUndo }: UndoingProps) {
  const [, again] = useState(0)
  useEffect(() => {
    if (tapped.size === 0) return
    const timer = setInterval(() => again((n) => n + 1), 500)
    return () => clearInterval(timer)
  }, [tapped])

  const now = performance.now()
  const open = [...tapped]
    .map(([id, at]) => ({ id, left: Math.ceil((at + undoMs - now) / 1000), at }))
    .filter(({ left }) => left > 0)
    .sort((a, b) => b.at - a.at)
    .slice(0, 4)
  return (
    <div class="laps-undo" role="group" aria-label={words.laps.takeBack}>
      {open.map(({ id, left }) => {
        const student = runners.find((runner) => runner.student.id === id)?.student
        return (
          <Button key={id} onPress={() => onUndo(id)}>
            {words.laps.undo(student?.bib ?? student?.name ?? '', left)}
          </Button>
        )
      })}
    </div>
  )
}

interface KeptOrder<R> {
  order: R[]
  /** A touch has counted: still for a moment. */
  settle: () => void
  /** A thumb is down on the keys, or up again. */
  thumb: (down: boolean) => void
}

/** The order of the keys. They change places between crossings alone: never under a thumb that is down, on its way, or just gone. */
function useKeptOrder<R extends Runner & { student: StudentShown }>(runners: readonly R[], now: Live<number>): KeptOrder<R> {
  const shown = useRef<readonly string[]>([])
  const stillUntil = useRef(0)
  const isDown = useRef(false)
  const [, again] = useState(0)
  const byId = new Map(runners.map((runner) => [runner.student.id, runner]))
  const isStill = isDown.current || performance.now() < stillUntil.current || !mayMove(runners, read(now))

  const wanted = inOrder(runners).map(({ student }) => student.id)
  const ids = isStill ? [...shown.current.filter((id) => byId.has(id)), ...wanted.filter((id) => !shown.current.includes(id))] : wanted
  shown.current = ids

  const settle = () => {
    stillUntil.current = performance.now() + stillMs
    setTimeout(() => again((n) => n + 1), stillMs + 20)
  }
  const thumb = (down: boolean) => {
    isDown.current = down
  }
  return { order: ids.flatMap((id) => byId.get(id) ?? []), settle, thumb }
}
