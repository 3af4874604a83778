import type { Language } from '@musterbook/vocabulary/people'
import { keepText } from '../house/kept-text.ts'
import { languages, speakAtHome } from '../words/languages.ts'

/** By person, on this device; `nobody`: what it speaks while nobody is signed on. */
const keptAs = 'musterbook.languages'
const nobody = 'nobody'

/** The language that this person chose here last; where they chose none, that of the device. */
export function keptLanguage(personId: string | undefined): Language {
  const kept = all()
  const chosen = kept[personId ?? nobody] ?? kept[nobody]
  return languages.find(({ language }) => language === chosen)?.language ?? 'en'
}

/** Speaks it, now and each time that this person signs on at this device. */
export function keepLanguage(personId: string | undefined, language: Language): void {
  void speakAtHome(language)
  keepText(keptAs, JSON.stringify({ ...all(), [personId ?? nobody]: language }))
}

function all(): Record<string, unknown> {
  try {
    return JSON.parse(localStorage.getItem(keptAs) ?? '{}') as Record<string, unknown>
  } catch {
    return {}
  }
}
