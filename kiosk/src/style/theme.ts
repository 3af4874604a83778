import { signal } from '@preact/signals'
import { keepText } from '../house/kept-text.ts'

export type Theme = 'indoor' | 'outdoor'

const keptAs = 'musterbook.theme'

/** How this device is lit. Kept on the device, not with the person: the sun does not care who signed on. */
export const theme = signal<Theme>('indoor')

export function wear(next: Theme): void {
  theme.value = next
  document.documentElement.dataset.theme = next
  keepText(keptAs, next)
}

/** Called by every screen before its first paint. */
export function wearKept(): void {
  let kept: string | null = null
  try {
    kept = localStorage.getItem(keptAs)
  } catch {
    // A device that keeps nothing wears the theme until the page closes.
  }
  wear(kept === 'outdoor' ? 'outdoor' : 'indoor')
}
