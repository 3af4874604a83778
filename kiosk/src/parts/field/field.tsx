import type { ComponentChildren } from 'preact'
import { useId } from 'preact/hooks'
import { words } from '../../words/words.ts'
import './field.css'

interface Around {
  label: string
  hint?: string | undefined
  /** What is wrong and how to put it right. Read out when it appears. */
  error?: string | undefined
  optional?: boolean | undefined
}

export interface FieldProps extends Around {
  name?: string | undefined
  value: string
  onInput: (value: string) => void
  type?: 'text' | 'password' | 'date' | 'time' | 'email' | 'search' | undefined
  inputMode?: 'text' | 'numeric' | 'decimal' | 'search' | undefined
  autoComplete?: string | undefined
  /** Enter was pressed: a hand scanner ends its code so. */
  onEnter?: ((value: string) => void) | undefined
  maxLength?: number | undefined
  unit?: string | undefined
  /** Several lines. */
  long?: boolean | undefined
}

/** One labelled answer. The label is always seen; the hint stays while typing. */
export function Field({
  label,
  hint,
  error,
  optional,
  name,
  value,
  onInput,
  type = 'text',
  onEnter,
  unit,
  long,
  inputMode,
  autoComplete,
  maxLength,
}: FieldProps) {
  const id = useId()
  const shared = {
    id,
    ...(name !== undefined && { name }),
    value,
    class: 'field-input',
    ...(type === 'text' && { dir: 'auto' as const }),
    required: !optional,
    ...(error && { 'aria-invalid': true }),
    'aria-describedby': describedBy(id, hint, error),
  }
  const limit = maxLength === undefined ? {} : { maxLength }
  return (
    <Labelled id={id} label={label} hint={hint} error={error} optional={optional && type !== 'search'}>
      {long ? (
        <textarea {...shared} rows={3} {...limit} onInput={(event) => onInput(event.currentTarget.value)} />
      ) : (
        <span class="field-box">
          <input
            {...shared}
            {...limit}
            {...(inputMode && { inputMode })}
            {...(autoComplete && { autoComplete })}
            type={type as 'text'}
            onInput={(event) => onInput(event.currentTarget.value)}
            onKeyDown={(event) => {
              if (event.key === 'Enter' && onEnter) {
                event.preventDefault()
                onEnter(event.currentTarget.value)
              }
            }}
          />
          {unit && <span class="field-unit">{unit}</span>}
        </span>
      )}
    </Labelled>
  )
}

export interface ChoiceProps extends Around {
  value: string
  choices: readonly { value: string; says: string }[]
  onChange: (value: string) => void
  /** Said first, when nothing is chosen yet. */
  blank?: string | undefined
}

/** One of a longer list. For a few, use `Tabs`: they are seen at once and need one touch. */
export function Choice({ label, hint, error, optional, value, choices, onChange, blank }: ChoiceProps) {
  const id = useId()
  return (
    <Labelled id={id} label={label} hint={hint} error={error} optional={optional}>
      <select
        id={id}
        class="field-input"
        value={value}
        aria-invalid={error ? true : undefined}
        aria-describedby={describedBy(id, hint, error)}
        onChange={(event) => onChange(event.currentTarget.value)}
      >
        {blank !== undefined && <option value="">{blank}</option>}
        {choices.map((choice) => (
          <option key={choice.value} value={choice.value} selected={choice.value === value}>
            {choice.says}
          </option>
        ))}
      </select>
    </Labelled>
  )
}

/** A statement to be ticked. */
export function Tick({ says, checked, onChange }: { says: ComponentChildren; checked: boolean; onChange: (checked: boolean) => void }) {
  return (
    <label class="tick">
      <input type="checkbox" checked={checked} onChange={(event) => onChange(event.currentTarget.checked)} />
      <span>{says}</span>
    </label>
  )
}

function Labelled({ id, label, hint, error, optional, children }: Around & { id: string; children: ComponentChildren }) {
  return (
    <div class="field" data-wrong={error ? true : undefined}>
      <label class="field-label" for={id}>
        {label}
        {optional && <span class="field-optional"> ({words.common.optional})</span>}
      </label>
      {hint && (
        <span class="field-hint" id={`${id}-hint`}>
          {hint}
        </span>
      )}
      {children}
      <span class="field-error" id={`${id}-error`} aria-live="polite">
        {error}
      </span>
    </div>
  )
}

const describedBy = (id: string, hint?: string, error?: string) =>
  [hint && `${id}-hint`, error && `${id}-error`].filter(Boolean).join(' ') || undefined
