import { signal } from '@preact/signals'
import type { Language } from '@musterbook/vocabulary/people'
import type { Telling } from './en/sentences.ts'
import { tellingEn } from './en/telling.ts'

/** A language in which a day is told comes when it is asked for; one that lacks a sentence does not compile. */
const tellings: Record<Language, () => Promise<Telling>> = {
  en: () => Promise.resolve(tellingEn),
  es: async () => (await import('./es/telling.ts')).tellingEs,
  ar: async () => (await Promise.all([import('./ar/telling.ts'), import('@fontsource-variable/noto-sans-arabic/wght.css')]))[0].tellingAr,
}

/** The reader’s language on the desk: that of the day’s sentences, not of the desk’s own labels. */
export const told = signal<{ language: Language; telling: Telling }>({ language: 'en', telling: tellingEn })

let asked: Language = 'en'

/** The last one asked for wins; one that cannot be had changes nothing and answers false. */
export async function tellIn(language: Language): Promise<boolean> {
  asked = language
  const telling = await tellings[language]().catch(() => undefined)
  if (telling && asked === language) told.value = { language, telling }
  return telling !== undefined
}
