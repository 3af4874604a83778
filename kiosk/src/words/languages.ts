import { signal } from '@preact/signals'
import type { Language } from '@musterbook/vocabulary/people'
import { en, type FloorWords } from './en.ts'
import { speak } from './words.ts'

interface Spoken {
  language: Language
  /** As its own speakers write it. */
  name: string
  direction: 'ltr' | 'rtl'
  /** In the language itself, while no native speaker has read it; null once one has. */
  notReviewed: string | null
  /** In the language itself: what a screen says that has only English. */
  englishOnly: string
  /** English lacks what its screen has loaded by itself. */
  load: () => Promise<Partial<FloorWords>>
}

/** Languages of the floor. One that is added here `satisfies FloorWords`, so it lacks no sentence. All but English come when they are asked for. */
export const languages: readonly [Spoken, ...Spoken[]] = [
  { language: 'en', name: 'English', direction: 'ltr', notReviewed: null, englishOnly: '', load: () => Promise.resolve(en) },
  {
    language: 'es',
    name: 'Español',
    direction: 'ltr',
    notReviewed: 'Traducción todavía sin revisar por un hablante nativo',
    englishOnly: 'Esta pantalla habla por ahora solo inglés.',
    load: async () => (await import('./es.ts')).es,
  },
  {
    language: 'ar',
    name: 'العربية',
    direction: 'rtl',
    notReviewed: 'ترجمة لم يراجعها متحدث أصلي بعد',
    englishOnly: 'هذه الشاشة بالإنجليزية فقط حتى الآن.',
    // Its own font comes with it, and only then.
    load: async () => (await Promise.all([import('./ar.ts'), import('@fontsource-variable/noto-sans-arabic/wght.css')]))[0].ar,
  },
]

export const directionOf = (language: Language): 'ltr' | 'rtl' => languages.find((one) => one.language === language)?.direction ?? 'ltr'

/** What the screen speaks now. */
export const spokenLanguage = signal<Language>('en')
/** A language that was asked for and could not be had: this device keeps no copy of it and the site was not reached. */
export const notHad = signal<Language | undefined>(undefined)

let asked: Language = 'en'

/** Speaks it as soon as it is here; the last one asked for wins. Until then, and where it cannot be had, what is spoken stays and `notHad` says so. */
export async function speakLanguage(language: Language): Promise<void> {
  asked = language
  const found = languages.find((one) => one.language === language) ?? languages[0]
  const say = await found.load().catch(() => undefined)
  if (asked !== language) return
  notHad.value = say ? undefined : language
  if (!say) return
  speak(found.language, say, found.direction)
  spokenLanguage.value = found.language
}

let home: Language = 'en'

/** What this screen speaks while no student's own language is spoken: that of whoever is signed on, or of the device. */
export function speakAtHome(language: Language): Promise<void> {
  home = language
  return speakLanguage(language)
}

/** A student has gone: nothing is left of them, their language neither. */
export const speakHome = (): Promise<void> => speakLanguage(home)
