import minus from 'lucide-static/icons/minus.svg?raw'
import plus from 'lucide-static/icons/plus.svg?raw'
import { figure } from '../../words/figures.ts'
import { words } from '../../words/words.ts'
import { Button } from '../button/button.tsx'
import { Mark } from '../mark/mark.tsx'
import './load-picker.css'

export interface Effort {
  loadTenths: number
  outcome: 'good' | 'noLift'
}

export interface LoadPickerProps {
  /** In tenths of the unit, as everywhere: 875 is 87.5 kg. */
  loadTenths: number
  unit: 'kg' | 'lb'
  /** What one touch adds or takes, in tenths. */
  stepsTenths: readonly [number, number]
  efforts: readonly Effort[]
  of: number
  /** `load`: the bar is being loaded. `lift`: the load is recorded and the lift is under way. */
  phase: 'load' | 'lift'
  onLoad: (loadTenths: number) => void
  onStart: () => void
  onOutcome: (outcome: 'good' | 'noLift') => void
}

/** Load before lift; then one touch says how it went. */
export function LoadPicker({ loadTenths, unit, stepsTenths, efforts, of, phase, onLoad, onStart, onOutcome }: LoadPickerProps) {
  const [small, large] = stepsTenths
  const load = `${said(loadTenths)} ${unit}`
  return (
    <section class="load" aria-label={words.load.title}>
      <div class="load-display">
        <span class="load-label">
          {words.load.title} · {words.load.efforts(efforts.length, of)}
        </span>
        <output class="load-value">
          {said(loadTenths)} <span class="load-unit">{unit}</span>
        </output>
      </div>
      <Efforts efforts={efforts} of={of} unit={unit} />
      {phase === 'load' ? (
        <>
          <div class="load-steps">
            {[-large, -small, small, large].map((step) => (
              <Button
                key={step}
                size="key"
                icon={step < 0 ? minus : plus}
                label={(step < 0 ? words.load.less : words.load.more)(`${said(Math.abs(step))} ${unit}`)}
                onPress={() => onLoad(Math.max(0, loadTenths + step))}
              >
                {said(Math.abs(step))}
              </Button>
            ))}
          </div>
          {efforts.length < of && (
            <Button kind="primary" size="key" wide onPress={onStart}>
              {words.load.set(load)}
            </Button>
          )}
        </>
      ) : (
        <div class="load-outcomes" role="group" aria-label={words.load.outcome}>
          <Button kind="primary" size="key" onPress={() => onOutcome('good')}>
            {words.load.good}
          </Button>
          <Button size="key" onPress={() => onOutcome('noLift')}>
            {words.load.noLift}
          </Button>
        </div>
      )}
    </section>
  )
}

/** Efforts used and left, in order. */
function Efforts({ efforts, of, unit }: Pick<LoadPickerProps, 'efforts' | 'of' | 'unit'>) {
  return (
    <div class="efforts">
      <ol class="efforts-list" aria-label={words.load.history}>
        {efforts.map((effort, i) => (
          <li key={i} class="effort">
            <span class="figures">
              {said(effort.loadTenths)} {unit}
            </span>
            <Mark
              state={effort.outcome === 'good' ? 'met' : 'notMet'}
              says={effort.outcome === 'good' ? words.load.good : words.load.noLift}
            />
          </li>
        ))}
      </ol>
      <strong>{words.load.left(of - efforts.length)}</strong>
    </div>
  )
}

const said = (tenths: number) => figure(tenths / 10, 1)
