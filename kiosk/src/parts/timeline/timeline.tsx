import { shortDuration, wallClock } from '../../words/figures.ts'
import { words } from '../../words/words.ts'
import { EmptyState } from '../empty-state/empty-state.tsx'
import { Mark, type State } from '../mark/mark.tsx'
import './timeline.css'

interface Moment {
  id: string
  happenedAt: number
  recordedAt: number
  /** One plain sentence. */
  says: string
  person?: string | undefined
  device?: string | undefined
  /** A state that this moment brought about. */
  state?: State | undefined
  stateSays?: string | undefined
}

export interface TimelineProps {
  moments: readonly Moment[]
  zone: string
  /** The moment that is stood at. */
  current?: string | undefined
  onChoose?: ((id: string) => void) | undefined
  /** A record this much later than it happened says so. */
  lateMs?: number | undefined
}

/** What happened, line by line, as a book has it: when, what, who. Late records carry both times. */
export function Timeline({ moments, zone, current, onChoose, lateMs = 60_000 }: TimelineProps) {
  if (moments.length === 0) return <EmptyState says={words.timeline.empty} />
  return (
    <ol class="timeline">
      {moments.map((moment) => {
        const late = moment.recordedAt - moment.happenedAt
        const line = (
          <>
            <time class="timeline-when" dateTime={new Date(moment.happenedAt).toISOString()}>
              {wallClock(moment.happenedAt, zone, true)}
            </time>
            <span class="timeline-what">
              <span>{moment.says}</span>
              {moment.state && <Mark state={moment.state} says={moment.stateSays} />}
            </span>
            <span class="timeline-who">
              {moment.person && words.timeline.by(moment.person, moment.device ?? '')}
              {late >= lateMs && <span class="timeline-late"> {words.timeline.late(shortDuration(late))}</span>}
            </span>
          </>
        )
        return (
          <li key={moment.id} class="timeline-line" aria-current={moment.id === current ? 'true' : undefined}>
            {onChoose ? (
              <button type="button" class="timeline-row" onClick={() => onChoose(moment.id)}>
                {line}
              </button>
            ) : (
              <div class="timeline-row">{line}</div>
            )}
          </li>
        )
      })}
    </ol>
  )
}
