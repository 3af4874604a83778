import { signal } from '@preact/signals'
import { en, type Words } from './en.ts'
import { writeFiguresIn } from './figures.ts'

const spoken = signal<Words>(en)

/**
 * What the screens say, in the language spoken now. Reading a word while rendering listens to the language:
 * the part renders again when it changes.
 */
export const words: Words = new Proxy({} as Words, {
  get: (_, key) => spoken.value[key as keyof Words],
})

/** Changes the language of the whole screen. `direction` is that of its script. */
export function speak(language: string, say: Words, direction: 'ltr' | 'rtl' = 'ltr'): void {
  writeFiguresIn(language)
  spoken.value = say
  document.documentElement.lang = language
  document.documentElement.dir = direction
}
