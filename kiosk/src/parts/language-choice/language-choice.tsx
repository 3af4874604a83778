import { useState } from 'preact/hooks'
import icon from 'lucide-static/icons/languages.svg?raw'
import type { Language } from '@musterbook/vocabulary/people'
import { languages, notHad, spokenLanguage } from '../../words/languages.ts'
import { words } from '../../words/words.ts'
import { Button } from '../button/button.tsx'
import { Dialog } from '../confirm-dialog/confirm-dialog.tsx'
import { Tabs } from '../tabs/tabs.tsx'
import './language-choice.css'

export interface LanguageChoiceProps {
  onChoose: (language: Language) => void
  /** Shows the label above; otherwise only speech has it. */
  labelled?: boolean
}

/** Every language by its own name, and what nobody has reviewed says so. */
export function LanguageChoice({ onChoose, labelled = false }: LanguageChoiceProps) {
  const missing = languages.find(({ language }) => language === notHad.value)
  return (
    <>
      <Tabs
        label={words.language.label}
        labelled={labelled}
        value={spokenLanguage.value}
        choices={languages.map(({ language, name, direction, notReviewed }) => ({
          value: language,
          says: name,
          detail: notReviewed ?? undefined,
          lang: language,
          dir: direction,
        }))}
        onChange={(chosen) => onChoose(chosen as Language)}
      />
      {missing && <p role="alert">{words.language.notHad(missing.name)}</p>}
    </>
  )
}

/** The small key in the frame of every screen: says what is spoken now. */
export function LanguageKey({ onChoose }: Pick<LanguageChoiceProps, 'onChoose'>) {
  const [open, setOpen] = useState(false)
  const name = languages.find(({ language }) => language === spokenLanguage.value)?.name ?? ''
  return (
    <>
      <Button size="small" icon={icon} label={`${name}: ${words.language.label}`} onPress={() => setOpen(true)}>
        <span lang={spokenLanguage.value}>{name}</span>
      </Button>
      <Dialog title={words.language.label} open={open} onClose={() => setOpen(false)}>
        <LanguageChoice onChoose={onChoose} />
      </Dialog>
    </>
  )
}
