import type { ComponentChildren } from 'preact'
import { useEffect, useId, useLayoutEffect, useRef, useState } from 'preact/hooks'
import deleteIcon from 'lucide-static/icons/delete.svg?raw'
import { decimalMark, figure } from '../../words/figures.ts'
import { words } from '../../words/words.ts'
import { Button } from '../button/button.tsx'
import { Icon } from '../icon/icon.tsx'
import { amountOf, press, shown, written, type Form, type PadKey } from './typing.ts'
import './number-pad.css'

export interface NumberPadProps extends Form {
  /** What is entered: "Reach, try 2". */
  label: string
  unit: string
  /** The value as an integer in the resolution read (380 tenths of a centimetre). */
  onSave: (amount: number) => void
  /** Asks about a value that is unlikely. It never refuses: the answer is keep or type again. */
  question?: ((amount: number) => string | undefined) | undefined
  /** The question was shown, and answered so. Prompts are part of the record. */
  onAnswered?: ((answer: { question: string; amount: number; kept: boolean }) => void) | undefined
  /** Words on the save key; "Save" unless told. */
  save?: string | undefined
  /** `stop` where saving stops somebody. */
  saveKind?: 'primary' | 'stop' | undefined
  /** Above the display: for whom. Where there is room, display and head stand beside the keys. */
  head?: ComponentChildren
  /** Under the keys: what else may be said instead of a value. */
  foot?: ComponentChildren
  /** What stands there at first, as typed; a later one (a watch that stopped) takes its place. */
  start?: string | undefined
  /** Takes what is typed on a keyboard at once, without a touch before. */
  listening?: boolean | undefined
  /** Example states only: shows the question at once. */
  asking?: boolean | undefined
}

const digits = ['1', '2', '3', '4', '5', '6', '7', '8', '9'] as const

/** Our own keys, each 20 mm, and the value large above them. A hardware keyboard types here too. */
export function NumberPad(props: NumberPadProps) {
  const { label, unit, onSave, question, onAnswered, save, saveKind = 'primary', head, foot, start = '', listening, asking } = props
  const form: Form = props
  const [typed, type] = useNewest(start)
  const [asked, ask] = useState(() => (asking ? question?.(amountOf(start, form) ?? 0) : undefined))
  const display = useId()
  const pad = useRef<HTMLDivElement>(null)
  useLayoutEffect(() => {
    if (listening) pad.current?.focus({ preventScroll: true })
  }, [listening])
  const amount = amountOf(typed.current, form)

  useEffect(() => {
    if (start !== '') type(() => start)
  }, [start])

  const hit = (key: PadKey) => {
    ask(undefined)
    type((before) => press(before, key, form))
  }
  const tryToSave = () => {
    const amount = amountOf(typed.current, form)
    if (amount === undefined) return
    const doubt = question?.(amount)
    if (doubt) ask(doubt)
    else done(amount)
  }
  const answer = (kept: boolean) => {
    if (amount === undefined || asked === undefined) return
    onAnswered?.({ question: asked, amount, kept })
    ask(undefined)
    if (kept) done(amount)
    else type(() => '')
  }
  const done = (value: number) => {
    type(() => '')
    onSave(value)
  }
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key === 'Enter' && event.target === pad.current) return tryToSave()
    const key = keyOf(event.key)
    if (!key || event.ctrlKey || event.metaKey || event.altKey) return
    event.preventDefault()
    hit(key)
  }

  return (
    <div
      ref={pad}
      class="pad"
      role="group"
      aria-label={label}
      tabIndex={listening ? -1 : undefined}
      autofocus={listening}
      onKeyDown={onKeyDown}
    >
      <div class="pad-inside">
        <div class="pad-told">
          {head}
          <div class="pad-display">
            <span class="pad-label" id={display}>
              {label}
            </span>
            <output class="pad-value" aria-labelledby={display} data-empty={typed.current === '' || undefined} data-shape={form.shape}>
              <bdi>
                {typed.current === '' && form.shape !== 'date' ? (
                  <span class="pad-blank">{words.numberPad.empty}</span>
                ) : (
                  shown(typed.current, form)
                )}
              </bdi>
              <span class="pad-unit">{unit}</span>
            </output>
          </div>
        </div>
        <div class="pad-side">
          {asked !== undefined && amount !== undefined ? (
            <div class="pad-question" role="alert">
              <p class="pad-asks">{asked}</p>
              <p>{words.numberPad.ask}</p>
              <div class="row">
                <Button kind="primary" size="key" onPress={() => answer(true)}>
                  {words.numberPad.keep(`${written(amount, form)} ${unit}`)}
                </Button>
                <Button size="key" onPress={() => answer(false)}>
                  {words.numberPad.retype}
                </Button>
              </div>
            </div>
          ) : (
            <div class="pad-keys">
              {digits.map((digit) => (
                <PadButton key={digit} onPress={() => hit(digit)}>
                  {figure(Number(digit))}
                </PadButton>
              ))}
              {form.negative ? (
                <PadButton label={words.numberPad.minus} onPress={() => hit('minus')}>
                  −
                </PadButton>
              ) : form.shape === 'time' || form.shape === 'date' || form.places === 0 ? (
                <PadButton label={words.numberPad.clear} onPress={() => hit('clear')} wordy>
                  {words.numberPad.clear}
                </PadButton>
              ) : (
                <PadButton label={words.numberPad.decimal} onPress={() => hit('mark')} mark>
                  {decimalMark()}
                </PadButton>
              )}
              <PadButton onPress={() => hit('0')}>{figure(0)}</PadButton>
              {form.negative && form.places > 0 ? (
                <PadButton label={words.numberPad.decimal} onPress={() => hit('mark')} mark>
                  {decimalMark()}
                </PadButton>
              ) : (
                <Remove onPress={() => hit('remove')} />
              )}
              {form.negative && form.places > 0 && <Remove onPress={() => hit('remove')} />}
              <button
                type="button"
                class={`button button-${saveKind} pad-save`}
                aria-disabled={amount === undefined || undefined}
                onClick={tryToSave}
              >
                {save ?? words.common.save}
              </button>
            </div>
          )}
          {foot}
        </div>
      </div>
    </div>
  )
}

/** What is typed, newest first of all: several keys may come before the screen is drawn again. */
function useNewest(start: string): [{ readonly current: string }, (change: (before: string) => string) => void] {
  const newest = useRef(start)
  const [, draw] = useState(start)
  return [
    newest,
    (change) => {
      newest.current = change(newest.current)
      draw(newest.current)
    },
  ]
}

function Remove({ onPress }: { onPress: () => void }) {
  return (
    <PadButton label={words.numberPad.remove} onPress={onPress}>
      <Icon svg={deleteIcon} />
    </PadButton>
  )
}

interface PadButtonProps {
  children: ComponentChildren
  label?: string
  wordy?: boolean
  mark?: boolean
  onPress: () => void
}

function PadButton({ children, label, wordy, mark, onPress }: PadButtonProps) {
  return (
    <button
      type="button"
      class={`button pad-key figures${wordy ? ' pad-key-wordy' : ''}${mark ? ' pad-key-mark' : ''}`}
      aria-label={label}
      onClick={onPress}
    >
      {children}
    </button>
  )
}

function keyOf(key: string): PadKey | undefined {
  if (/^\d$/.test(key)) return key as PadKey
  if (key === '.' || key === ',') return 'mark'
  if (key === '-') return 'minus'
  if (key === 'Backspace') return 'remove'
  return key === 'Delete' ? 'clear' : undefined
}
