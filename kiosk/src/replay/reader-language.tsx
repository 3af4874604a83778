import { useState } from 'preact/hooks'
import type { Language } from '@musterbook/vocabulary/people'
import { Choice } from '../parts/field/field.tsx'
import { languages } from '../words/languages.ts'
import { tellIn, told } from '../words/telling.ts'
import { words } from '../words/words.ts'

/** In which language the day is told; the desk's own labels stay as they are. */
export function ReaderLanguage() {
  const [failed, fail] = useState(false)
  const { language } = told.value
  const reviewed = languages.find((one) => one.language === language)?.notReviewed
  return (
    <div class="replay-reader">
      <Choice
        label={words.replay.toldIn}
        value={language}
        choices={languages.map((one) => ({ value: one.language, says: one.name }))}
        onChange={(chosen) => void tellIn(chosen as Language).then((had) => fail(!had))}
      />
      {reviewed && (
        <p class="quiet" lang={language} dir="auto">
          {reviewed}
        </p>
      )}
      {failed && <p role="alert">{words.replay.toldInFailed}</p>}
    </div>
  )
}
