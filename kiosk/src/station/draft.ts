import { useState } from 'preact/hooks'
import { keepText } from '../house/kept-text.ts'

/** What was read and not yet told, kept on this tablet through a reload or a swapped battery. */
export function useDraft<Draft>(key: string, blank: Draft): [Draft, (draft: Draft) => void, () => void] {
  const [draft, set] = useState<Draft>(() => readKept(key) ?? blank)
  const write = (next: Draft) => {
    keepText(key, JSON.stringify(next))
    set(next)
  }
  return [draft, write, () => localStorage.removeItem(key)]
}

function readKept<Draft>(key: string): Draft | undefined {
  const kept = localStorage.getItem(key)
  return kept === null ? undefined : (JSON.parse(kept) as Draft)
}
