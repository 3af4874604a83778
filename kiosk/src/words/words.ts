import { signal } from '@preact/signals'
import { en, type FloorWords } from './en.ts'
import type { EnglishOnly } from './english-only.ts'
import { writeFiguresIn } from './figures.ts'

export type Words = FloorWords & EnglishOnly

const spoken = signal<FloorWords>(en)

let english: FloorWords & Partial<EnglishOnly> = en
/** Gives the screen what only English says. */
export const alsoSay = (more: EnglishOnly): void => void (english = { ...en, ...more })

/**
 * What the screens say, in the language spoken now. Reading a word while rendering listens to the language:
 * the part renders again when it changes. What only English says (`EnglishOnly`) stays English.
 */
export const words: Words = new Proxy({} as Words, {
  get: (_, key) => (spoken.value as Words)[key as keyof Words] ?? english[key as keyof Words],
})

/** Changes the language of the whole screen. `direction` is that of its script. */
export function speak(language: string, say: FloorWords, direction: 'ltr' | 'rtl' = 'ltr'): void {
  writeFiguresIn(language, direction)
  spoken.value = say
  document.documentElement.lang = language
  document.documentElement.dir = direction
}
