import { signal } from '@preact/signals'

export type Theme = 'indoor' | 'outdoor'

const keptAs = 'musterbook.theme'

/** How this device is lit. Kept on the device, not with the person: the sun does not care who signed on. */
export const theme = signal<Theme>('indoor')

export function wear(next: Theme): void {
  theme.value = next
  document.documentElement.dataset.theme = next
  try {
    localStorage.setItem(keptAs, next)
  } catch {
    // A device that keeps nothing still shows the theme until the page closes.
  }
}

/** Called by every screen before its first paint. */
export function wearKept(): void {
  let kept: string | null = null
  try {
    kept = localStorage.getItem(keptAs)
  } catch {
    // As above.
  }
  wear(kept === 'outdoor' ? 'outdoor' : 'indoor')
}
