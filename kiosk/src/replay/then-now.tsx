import { useEffect, useState } from 'preact/hooks'
import type { Day } from '@musterbook/day/day'
import { differences, type Difference } from '@musterbook/replay/compare'
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
  const [moves, set] = useState<readonly Difference[] | undefined>(undefined)
  // Folds the whole day: not at every step of a slider, but where it comes to rest.
  useEffect(() => {
    set(undefined)
    const timer = setTimeout(() => set(differences(day, desk.corrected(at))), 250)
    return () => clearTimeout(timer)
  }, [desk, day, at])
  const shown = moves?.filter((one) => studentId === '' || one.studentId === studentId)
  return (
    <section class="stack" aria-label={say.thenNow}>
      <h3>{say.thenNow}</h3>
      {!shown ? (
        <p role="status">{words.progress.working}</p>
      ) : shown.length === 0 ? (
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
