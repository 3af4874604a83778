import { useEffect, useState } from 'preact/hooks'
import type { AttemptView } from '@musterbook/day/views/parts'
import type { StationStudent } from '@musterbook/day/views/station'
import undoIcon from 'lucide-static/icons/undo-2.svg?raw'
import { Button } from '../parts/button/button.tsx'
import { words } from '../words/words.ts'
import type { Saved, StationActs } from './acts.ts'

interface Props {
  student: StationStudent
  saved: Saved
  acts: StationActs
  onUndo?: () => void
}

/** Real seconds in which one touch takes a slip back; its trace stays. */
const undoMs = 10_000

/** The try that a saved reading became: a second tablet's reading may have gone to the first one's. */
export const tryOf = (student: StationStudent, { observationId }: Saved): AttemptView | undefined =>
  student.attempts.find((attempt) => attempt.observations.some((one) => one.observationId === observationId))

/** One touch, for ten seconds: the reading stays in the record as void. Nothing is taken back before the day has it. */
export function Undo({ student, saved, acts, onUndo }: Props) {
  const [now, tick] = useState(() => performance.now())
  const left = saved.savedMs + undoMs - now
  const isOver = left <= 0
  useEffect(() => {
    if (isOver) return
    const timer = setInterval(() => tick(performance.now()), 250)
    return () => clearInterval(timer)
  }, [isOver])
  const found = tryOf(student, saved)
  if (isOver || found?.status !== 'recorded') return null
  const undo = () => {
    onUndo?.()
    const what = words.station.told.undone(student.bib ?? '?')
    void acts.correct(what, student.studentId, found, { kind: 'void' }, words.station.undoReason)
  }
  return (
    <Button icon={undoIcon} onPress={undo}>
      {words.station.undo(Math.ceil(left / 1000))}
    </Button>
  )
}

/** The same while the next student is on the screen already. */
export function UndoElsewhere(props: Props) {
  return (
    <div class="undo-elsewhere">
      <span>
        {words.common.bib(props.student.bib ?? '?')}: {props.saved.says}
      </span>
      <Undo {...props} />
    </div>
  )
}
