import { useId } from 'preact/hooks'
import './tabs.css'

export interface TabsProps {
  label: string
  value: string
  choices: readonly { value: string; says: string; detail?: string | undefined; lang?: string; dir?: 'ltr' | 'rtl' }[]
  onChange: (value: string) => void
  /** Shows the label above; otherwise only speech has it. */
  labelled?: boolean
}

/** One of a few, all seen at once: native radio buttons, worn as tabs. */
export function Tabs({ label, value, choices, onChange, labelled }: TabsProps) {
  const name = useId()
  return (
    <fieldset class="tabs">
      <legend class={labelled ? 'tabs-label' : 'spoken'}>{label}</legend>
      <div class="tabs-choices">
        {choices.map((choice) => (
          <label key={choice.value} class="tab" lang={choice.lang} dir={choice.dir}>
            <input
              type="radio"
              class="spoken"
              name={name}
              value={choice.value}
              checked={choice.value === value}
              onChange={() => onChange(choice.value)}
            />
            <span class="tab-word">{choice.says}</span>
            {choice.detail && <span class="tab-detail">{choice.detail}</span>}
          </label>
        ))}
      </div>
    </fieldset>
  )
}
