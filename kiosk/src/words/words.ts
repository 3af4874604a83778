import { signal } from '@preact/signals'
import { en, type FloorWords, type Words } from './en.ts'
import { writeFiguresIn } from './figures.ts'

const spoken = signal<FloorWords>(en)

/**
 * What the screens say, in the language spoken now. Reading a word while rendering listens to the language:
 * the part renders again when it changes. What only English says (`EnglishOnly`) stays English.
 */
export const words: Words = new Proxy({} as Words, {
  get: (_, key) => (spoken.value as Words)[key as keyof Words] ?? en[key as keyof Words],
})

/** Changes the language of the whole screen. `direction` is that of its script. */
export function speak(language: string, say: FloorWords, direction: 'ltr' | 'rtl' = 'ltr'): void {
  writeFiguresIn(language, direction)
  spoken.value = say
  document.documentElement.lang = language
  document.documentElement.dir = direction
}
