import type { ComponentChildren, Ref } from 'preact'
import { Icon } from '../icon/icon.tsx'
import './button.css'

export interface ButtonProps {
  children: ComponentChildren
  onPress?: () => void
  /** One primary a screen. `stop` is for stopping people and raising holds alone. */
  kind?: 'primary' | 'normal' | 'stop' | 'quiet'
  /** A key is at least 20 × 20 mm on the reference tablet: what a station presses all day. */
  size?: 'key' | 'normal' | 'small'
  /** An SVG of lucide-static (`?raw`), beside the word. */
  icon?: string | undefined
  /** What speech says, where the visible words alone would not tell two buttons apart. Starts with the visible words. */
  label?: string | undefined
  /** A second line under the words. */
  detail?: ComponentChildren
  type?: 'button' | 'submit'
  wide?: boolean
  pressed?: boolean | undefined
  /** While something is under way. A button that may not be pressed for any other reason is not shown: its refusal is. */
  busy?: boolean | undefined
  buttonRef?: Ref<HTMLButtonElement>
}

export function Button({
  children,
  onPress,
  kind = 'normal',
  size = 'normal',
  icon,
  label,
  detail,
  type = 'button',
  wide,
  pressed,
  busy,
  buttonRef,
}: ButtonProps) {
  return (
    <button
      type={type}
      class={`button button-${kind} button-${size}${wide ? ' button-wide' : ''}`}
      aria-label={label}
      aria-pressed={pressed}
      aria-disabled={busy || undefined}
      {...(buttonRef && { ref: buttonRef })}
      onClick={(event) => {
        if (busy) event.preventDefault()
        else onPress?.()
      }}
    >
      {icon && <Icon svg={icon} />}
      <span class="button-words">
        <span class="button-word">{children}</span>
        {detail !== undefined && <span class="button-detail">{detail}</span>}
      </span>
    </button>
  )
}
