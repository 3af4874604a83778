import { speakLanguage } from '../../words/languages.ts'
import type { Examples } from '../examples.ts'
import { LanguageChoice, LanguageKey } from './language-choice.tsx'

export const examples: Examples = {
  'every language': () => <LanguageChoice labelled onChoose={(language) => void speakLanguage(language)} />,
  'the key in the frame': () => <LanguageKey onChoose={(language) => void speakLanguage(language)} />,
}
