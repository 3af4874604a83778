import { useId, useMemo } from 'preact/hooks'
import chevronFirst from 'lucide-static/icons/chevron-first.svg?raw'
import chevronLast from 'lucide-static/icons/chevron-last.svg?raw'
import chevronLeft from 'lucide-static/icons/chevron-left.svg?raw'
import chevronRight from 'lucide-static/icons/chevron-right.svg?raw'
import { words } from '../../words/words.ts'
import { Button } from '../button/button.tsx'
import './step-slider.css'

export interface StepSliderProps {
  /** 0 is before the first entry; `count` is the whole day. */
  position: number
  count: number
  /** What stands at this position: "10:40:12. Hold raised over Track." */
  says: string
  onStep: (position: number) => void
  /** Positions worth stopping at, marked on the rail. */
  marks?: readonly { position: number; says: string }[] | undefined
}

/** Walks through a day entry by entry, or slides. */
export function StepSlider({ position, count, says, onStep, marks = [] }: StepSliderProps) {
  const id = useId()
  // A day has hundreds of marks, and a slider moves at every frame.
  const rail = useMemo(
    () => (
      <datalist id={id}>
        {marks.map((mark) => (
          <option key={mark.position} value={mark.position} label={mark.says} />
        ))}
      </datalist>
    ),
    [id, marks],
  )
  return (
    <div class="steps" role="group" aria-label={words.steps.slider}>
      <p class="steps-says" aria-live="polite">
        <strong class="figures">{words.steps.position(position, count)}</strong> <bdi>{says}</bdi>
      </p>
      <input
        class="steps-rail"
        type="range"
        min={0}
        max={count}
        value={position}
        list={id}
        aria-label={words.steps.slider}
        aria-valuetext={says}
        onInput={(event) => onStep(Number(event.currentTarget.value))}
      />
      {rail}
      <div class="steps-keys">
        <Button icon={chevronFirst} onPress={() => onStep(0)}>
          {words.steps.first}
        </Button>
        <Button icon={chevronLeft} onPress={() => onStep(Math.max(0, position - 1))}>
          {words.steps.previous}
        </Button>
        <Button icon={chevronRight} onPress={() => onStep(Math.min(count, position + 1))}>
          {words.steps.next}
        </Button>
        <Button icon={chevronLast} onPress={() => onStep(count)}>
          {words.steps.last}
        </Button>
      </div>
    </div>
  )
}
