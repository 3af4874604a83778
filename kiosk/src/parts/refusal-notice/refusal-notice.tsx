import type { ComponentChildren } from 'preact'
import { useId } from 'preact/hooks'
import { refusalSays } from '../../house/sentence.ts'
import type { HeardRefusal } from '../../live/api.ts'
import { words } from '../../words/words.ts'
import { Shape } from '../mark/mark.tsx'
import './refusal-notice.css'

export interface RefusalNoticeProps {
  refusal: HeardRefusal
  title?: string | undefined
  /** Where this refusal stands: in the record, on this device until it is told, or nowhere (the screen itself said it). */
  stands?: 'recorded' | 'kept' | 'nowhere'
  /** The way on, if this screen has one. */
  children?: ComponentChildren
}

/** A "no" where a dead button would be: what is missing, who can resolve it, what next, and the rule by name. */
export function RefusalNotice({ refusal, title, stands = 'recorded', children }: RefusalNoticeProps) {
  const id = useId()
  const { says, next, who } = refusalSays(refusal)
  return (
    <section class="refusal" role="alert" aria-labelledby={id}>
      <h2 class="refusal-title" id={id}>
        <Shape state="notMet" />
        {title ?? words.refusal.title}
      </h2>
      <p class="refusal-sentence">{says}</p>
      <dl class="refusal-facts">
        <dt>{words.refusal.resolver}</dt>
        <dd>{who}</dd>
        <dt>{words.refusal.next}</dt>
        <dd>{next}</dd>
        <dt>{words.refusal.rule}</dt>
        <dd class="code">{refusal.rule}</dd>
      </dl>
      {children}
      {stands !== 'nowhere' && <p class="refusal-kept">{stands === 'recorded' ? words.refusal.kept : words.refusal.keptHere}</p>}
    </section>
  )
}
