import { useId } from 'preact/hooks'
import type { ComponentChildren } from 'preact'
import megaphone from 'lucide-static/icons/megaphone.svg?raw'
import { shortDuration } from '../../words/figures.ts'
import { words } from '../../words/words.ts'
import { Button } from '../button/button.tsx'
import { EmptyState } from '../empty-state/empty-state.tsx'
import { read, type Live } from '../live.ts'
import { Mark } from '../mark/mark.tsx'
import { StudentCard, type StudentShown } from '../student-card/student-card.tsx'
import './queue.css'

interface Place {
  student: StudentShown
  /** When they joined, on the site's clock. */
  since: number
  state?: 'waiting' | 'called' | 'underWay'
  /** Something the caller must see first: a limit, a rest not over yet. */
  note?: string | undefined
}

export interface QueueProps {
  places: readonly Place[]
  /** The site's clock. */
  now: Live<number>
  /** Left out where nobody may call up from this screen. */
  onCallUp?: ((studentId: string) => void) | undefined
  title?: string | undefined
  /** Why nobody can be called up now (a refusal or hold), in place of the buttons. */
  instead?: ComponentChildren
}

/** Who is cleared and waiting, longest first, with the wait so far. The first may be called with one large key. */
export function Queue({ places, now, onCallUp, title, instead }: QueueProps) {
  const id = useId()
  const firstWaiting = places.find(({ state }) => (state ?? 'waiting') === 'waiting')
  const waiting = places.filter(({ state }) => (state ?? 'waiting') === 'waiting').length

  return (
    <section class="queue" aria-labelledby={id}>
      <h2 id={id}>{title ?? words.queue.title}</h2>
      <p class="queue-count">{words.queue.waiting(waiting)}</p>
      {instead}
      {places.length === 0 ? (
        <EmptyState says={words.queue.waiting(0)} help={words.queue.emptyHelp} />
      ) : (
        <ol class="queue-list">
          {places.map((place) => {
            const { student, state = 'waiting' } = place
            const first = place === firstWaiting
            return (
              <li key={student.id} class="queue-place" data-state={state}>
                <StudentCard student={student}>
                  <span class="queue-state">
                    {state === 'waiting' ? <Waited since={place.since} now={now} /> : <Mark state={state} />}
                    {place.note && <span class="queue-note">{place.note}</span>}
                  </span>
                  {onCallUp && !instead && state === 'waiting' && (
                    <Button
                      kind={first ? 'primary' : 'normal'}
                      size={first ? 'key' : 'normal'}
                      icon={megaphone}
                      label={words.queue.callUpNamed(student.name, student.bib ? words.common.bib(student.bib) : '')}
                      onPress={() => onCallUp(student.id)}
                    >
                      {words.queue.callUp}
                    </Button>
                  )}
                </StudentCard>
              </li>
            )
          })}
        </ol>
      )}
    </section>
  )
}

function Waited({ since, now }: { since: number; now: Live<number> }) {
  return <Mark state="waiting" says={shortDuration(read(now) - since)} />
}
