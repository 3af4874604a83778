import { useEffect } from 'preact/hooks'

/** A scanner types faster than any hand: so long at most between two keys. */
const burstMs = 40
const least = 2

/** What a hand scanner read, told once its Enter has come. */
export function scanned(keys: readonly { key: string; at: number }[]): string | null {
  const enter = keys.at(-1)
  if (enter?.key !== 'Enter') return null
  const typed: string[] = []
  for (let i = keys.length - 2; i >= 0 && keys[i]!.key.length === 1 && keys[i + 1]!.at - keys[i]!.at <= burstMs; i--)
    typed.unshift(keys[i]!.key)
  return typed.length >= least ? typed.join('') : null
}

/** Hears a scanner wherever nobody is typing into a field: focus on a key, on the page, or nowhere. */
export function useScanner(onScan: (text: string) => void): void {
  useEffect(() => {
    let keys: { key: string; at: number }[] = []
    const hear = (event: KeyboardEvent) => {
      if (event.target instanceof Element && event.target.closest('input, textarea, select, [role="group"].pad, dialog')) return
      keys = [...keys.slice(-63), { key: event.key, at: event.timeStamp }]
      const text = scanned(keys)
      if (text === null) return
      keys = []
      // The Enter is the scanner's and presses no key of ours.
      event.preventDefault()
      onScan(text)
    }
    document.addEventListener('keydown', hear)
    return () => document.removeEventListener('keydown', hear)
  })
}

/** A scanner types into a PIN's field as well: no PIN looks like this. */
export const looksLikeABadge = (typed: string): boolean => /^b\d{7}$/i.test(typed)
