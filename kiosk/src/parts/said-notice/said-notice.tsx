import type { ComponentChildren } from 'preact'
import { wallClock } from '../../words/figures.ts'
import { words } from '../../words/words.ts'
import { Shape } from '../mark/mark.tsx'
import './said-notice.css'

export interface SaidNoticeProps {
  /** The two words that screens keep apart. `kept`: on this tablet alone. `recorded`: the ledger acknowledged it. */
  said: 'kept' | 'recorded'
  /** What: "Reach 38.0 cm, #101". */
  what: string
  at: number
  zone: string
  /** Version of the entry, once recorded. */
  version?: number | undefined
  /** It contradicts the day and waits for the supervisor. */
  review?: boolean | undefined
  /** Undo, for ten seconds. */
  children?: ComponentChildren
}

/** What became of the last act. Stays until the next one: nobody has to look in time. */
export function SaidNotice({ said, what, at, zone, version, review, children }: SaidNoticeProps) {
  return (
    <div class="said" data-said={said} role="status">
      <Shape state={said === 'kept' ? 'waiting' : 'done'} />
      <p class="said-words">
        <strong class="said-word">{said === 'kept' ? words.said.kept : words.said.recorded}</strong>
        <span class="said-what">{what}</span>
        <span class="said-more figures">
          {words.said.at(wallClock(at, zone, true))}
          {version !== undefined && `, ${words.said.number(version)}`}
        </span>
        {said === 'kept' && <span class="said-more">{words.said.keptHelp}</span>}
        {review && (
          <span class="said-review">
            <Shape state="review" /> {words.said.review}
          </span>
        )}
      </p>
      {children}
    </div>
  )
}
