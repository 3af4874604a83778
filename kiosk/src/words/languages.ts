import type { Language } from '@musterbook/vocabulary/people'
import { en, type Words } from './en.ts'
import { speak } from './words.ts'

interface Spoken {
  language: Language
  /** As its own speakers write it. */
  name: string
  direction: 'ltr' | 'rtl'
  say: Words
}

/** Languages of the kiosk. One that is added here `satisfies Words`, so it lacks no sentence. */
export const languages: readonly [Spoken, ...Spoken[]] = [{ language: 'en', name: 'English', direction: 'ltr', say: en }]

/** Speaks it where the kiosk can; otherwise what is spoken stays. */
export function speakLanguage(language: Language): void {
  const found = languages.find((one) => one.language === language)
  if (found) speak(found.language, found.say, found.direction)
}
