import { signal } from '@preact/signals'
import { en, type FloorWords } from './en.ts'
import type { EnglishOnly } from './english-only.ts'
import { writeFiguresIn } from './figures.ts'
import { standingApart } from './standing-apart.ts'

export type Words = FloorWords & EnglishOnly

const spoken = signal<Partial<Words>>(en)

let english: Partial<Words> = en
/** Gives a screen what it says in English beyond what each says. */
export const alsoSay = (more: Partial<Words>): void => void (english = { ...english, ...more })

/**
 * What the screens say, in the language spoken now. Reading a word while rendering listens to the language:
 * the part renders again when it changes. What only English says (`EnglishOnly`) stays English.
 */
export const words: Words = new Proxy({} as Words, {
  get: (_, key) => standingApart(spoken.value[key as keyof Words] ?? english[key as keyof Words]),
})

/** Changes the language of the whole screen. `direction` is that of its script. */
export function speak(language: string, say: Partial<FloorWords>, direction: 'ltr' | 'rtl' = 'ltr'): void {
  writeFiguresIn(language, direction)
  spoken.value = say
  document.documentElement.lang = language
  document.documentElement.dir = direction
}
