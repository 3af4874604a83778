import type { ComponentChildren } from 'preact'
import './empty-state.css'

/** Nothing is here, and that is not an error: says what would bring something. */
export function EmptyState({ says, help, children }: { says: string; help?: string | undefined; children?: ComponentChildren }) {
  return (
    <div class="empty">
      <p class="empty-says">{says}</p>
      {help && <p class="empty-help">{help}</p>}
      {children}
    </div>
  )
}
