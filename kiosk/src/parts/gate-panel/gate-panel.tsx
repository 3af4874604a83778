import { useId } from 'preact/hooks'
import { words } from '../../words/words.ts'
import { Mark, Shape } from '../mark/mark.tsx'
import './gate-panel.css'

/** One check before a start. Unknown blocks as surely as not met. */
export interface Gate {
  id: string
  name: string
  state: 'met' | 'notMet' | 'unknown'
  /** What is in force, since when, how old. Never a medical reason. */
  detail?: string | undefined
  /** Who can resolve it; said only while it is not met or unknown. */
  resolver?: string | undefined
}

/** Every gate of one start and who can resolve what is open: that stands first, the rest in the order the day asks them. */
export function GatePanel({ gates, title }: { gates: readonly Gate[]; title?: string | undefined }) {
  const id = useId()
  const notMet = gates.filter(({ state }) => state === 'notMet').length
  const unknown = gates.filter(({ state }) => state === 'unknown').length
  const open = notMet + unknown > 0

  return (
    <section class="gates" aria-labelledby={id}>
      <div class="gates-head">
        <h2 id={id}>{title ?? words.gates.title}</h2>
        <p class="gates-sum" role="status">
          <Shape state={notMet > 0 ? 'notMet' : unknown > 0 ? 'unknown' : 'met'} />
          {open ? words.gates.open(notMet, unknown) : words.gates.allMet}
        </p>
      </div>
      <ul class="gates-list">
        {openFirst(gates).map((gate) => (
          <li key={gate.id} class="gate" data-state={gate.state}>
            <span class="gate-name">{gate.name}</span>
            <Mark state={gate.state} />
            {(gate.detail || (gate.resolver && gate.state !== 'met')) && (
              <span class="gate-more">
                {gate.detail && <span class="gate-detail">{gate.detail}</span>}
                {gate.resolver && gate.state !== 'met' && <strong class="gate-resolver">{words.gates.resolver(gate.resolver)}</strong>}
              </span>
            )}
          </li>
        ))}
      </ul>
    </section>
  )
}

const openFirst = (gates: readonly Gate[]): Gate[] =>
  [...gates].sort((one, other) => Number(one.state === 'met') - Number(other.state === 'met'))
