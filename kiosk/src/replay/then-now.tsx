import { useMemo } from 'preact/hooks'
import type { Day } from '@musterbook/day/day'
import { differences } from '@musterbook/replay/compare'
import { asCorrected } from '@musterbook/replay/moments'
import { wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import type { Desk } from './desk.ts'
import { Moves } from './moves.tsx'

interface Props {
  desk: Desk
  /** As known then. */
  day: Day
  at: number
  /** Empty: everybody. */
  studentId: string
}

/** What was known at that moment beside what the record says now about what had happened by then. */
export function ThenNow({ desk, day, at, studentId }: Props) {
  const { replay: say } = words
  const moves = useMemo(() => differences(day, asCorrected(desk.dayId, desk.entries, at)), [desk, day, at])
  const shown = moves.filter((one) => studentId === '' || one.studentId === studentId)
  return (
    <section class="stack" aria-label={say.thenNow}>
      <h3>{say.thenNow}</h3>
      {shown.length === 0 ? (
        <p>{say.thenNowNone}</p>
      ) : (
        <Moves
          desk={desk}
          caption={say.thenNowHelp(wallClock(at, desk.zone, true))}
          moves={shown}
          before={say.asKnown}
          after={say.asCorrected}
        />
      )}
    </section>
  )
}
