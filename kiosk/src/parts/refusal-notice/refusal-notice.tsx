import type { ComponentChildren } from 'preact'
import { useId } from 'preact/hooks'
import type { Rule } from '@musterbook/vocabulary/refusals'
import type { HeardRefusal } from '../../live/api.ts'
import { words } from '../../words/words.ts'
import { Shape } from '../mark/mark.tsx'
import './refusal-notice.css'

export interface RefusalNoticeProps {
  refusal: HeardRefusal
  title?: string | undefined
  /** The way on, if this screen has one. */
  children?: ComponentChildren
}

/** A "no" where a dead button would be: what is missing, who can resolve it, what next, and the rule by name. */
export function RefusalNotice({ refusal, title, children }: RefusalNoticeProps) {
  const id = useId()
  const known = Object.hasOwn(words.refusals, refusal.rule) ? words.refusals[refusal.rule as Rule] : undefined
  const fallback = words.refusal.fallback
  return (
    <section class="refusal" role="alert" aria-labelledby={id}>
      <h2 class="refusal-title" id={id}>
        <Shape state="notMet" />
        {title ?? words.refusal.title}
      </h2>
      <p class="refusal-sentence">{known?.says(refusal.params) || refusal.says || fallback.says}</p>
      <dl class="refusal-facts">
        <dt>{words.refusal.resolver}</dt>
        <dd>{known?.who || refusal.who || fallback.who}</dd>
        <dt>{words.refusal.next}</dt>
        <dd>{known?.next(refusal.params) || refusal.next || fallback.next}</dd>
        <dt>{words.refusal.rule}</dt>
        <dd class="code">{refusal.rule}</dd>
      </dl>
      {children}
      <p class="refusal-kept">{words.refusal.kept}</p>
    </section>
  )
}
