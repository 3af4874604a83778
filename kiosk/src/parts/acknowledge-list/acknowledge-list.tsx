import type { ComponentChildren } from 'preact'
import { useId } from 'preact/hooks'
import { shortDuration } from '../../words/figures.ts'
import { words } from '../../words/words.ts'
import { Mark } from '../mark/mark.tsx'
import './acknowledge-list.css'

export interface Listener {
  id: string
  /** "Track, tablet 3" */
  name: string
  person?: string | undefined
  state: 'heard' | 'notHeard' | 'unreachable'
  /** How long after the raise they said so. */
  afterMs?: number | undefined
  /** How old what is known of it is. */
  age?: string | undefined
  /** What to do about one that is silent. */
  next?: string | undefined
  /** What was said over the radio for it, or the way to note that. Its own state stands all the same. */
  radio?: ComponentChildren
}

/** Who has heard a hold and who has not: the silent ones first. */
export function AcknowledgeList({ listeners }: { listeners: readonly Listener[] }) {
  const id = useId()
  const rank = { unreachable: 0, notHeard: 1, heard: 2 }
  const heard = listeners.filter(({ state }) => state === 'heard').length
  return (
    <section class="heard" aria-labelledby={id}>
      <h2 id={id}>{words.acknowledgements.title}</h2>
      <p class="heard-tally" role="status">
        {words.acknowledgements.tally(heard, listeners.length)}
      </p>
      <ul class="heard-list">
        {[...listeners]
          .sort((a, b) => rank[a.state] - rank[b.state])
          .map(({ id, name, person, state, afterMs, age, next, radio }) => (
            <li key={id} data-state={state}>
              <span class="heard-name">
                {name}
                {person && <span class="quiet"> {person}</span>}
              </span>
              <Mark
                state={state === 'heard' ? 'met' : state === 'notHeard' ? 'notMet' : 'unknown'}
                says={
                  state === 'heard'
                    ? `${words.acknowledgements.heard}${afterMs === undefined ? '' : ` ${words.acknowledgements.after(shortDuration(afterMs))}`}`
                    : state === 'notHeard'
                      ? words.acknowledgements.notHeard
                      : words.acknowledgements.unreachable
                }
              />
              {age && <span class="heard-age figures">{age}</span>}
              {next && <strong class="heard-next">{next}</strong>}
              {radio}
            </li>
          ))}
      </ul>
    </section>
  )
}
