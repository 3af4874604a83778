import { useLayoutEffect, useRef, useState } from 'preact/hooks'
import camera from 'lucide-static/icons/camera.svg?raw'
import type { Language } from '@musterbook/vocabulary/people'
import { Button } from '../parts/button/button.tsx'
import { Field } from '../parts/field/field.tsx'
import { LanguageChoice } from '../parts/language-choice/language-choice.tsx'
import { words } from '../words/words.ts'
import { CodeCamera } from '../shell/code-camera.tsx'

/** Where everybody begins: a card under the scanner, in front of the camera, or typed. Never a list of names. */
export function CodeStep({ onLanguage, onCode }: { onLanguage: (language: Language) => void; onCode: (code: string) => void }) {
  const [code, type] = useState('')
  const [looking, look] = useState(false)
  const [noCamera, setNoCamera] = useState(false)
  const form = useRef<HTMLFormElement>(null)
  const go = (said: string) => {
    if (said.trim() !== '') onCode(said.trim())
  }
  // A hand scanner types wherever the cursor is: with none anywhere, here.
  useLayoutEffect(() => {
    const listen = (event: KeyboardEvent) => {
      if (event.key.length === 1 && document.activeElement === document.body) form.current?.querySelector('input')?.focus()
    }
    document.addEventListener('keydown', listen)
    return () => document.removeEventListener('keydown', listen)
  }, [])

  return (
    <>
      <LanguageChoice labelled onChoose={onLanguage} />
      <p>{words.checkIn.codeHelp}</p>
      {looking ? (
        <CodeCamera
          help={words.checkIn.camera}
          onCode={go}
          onNone={() => {
            look(false)
            setNoCamera(true)
          }}
          onClose={() => look(false)}
        />
      ) : (
        <form
          ref={form}
          class="stack check-in-code"
          onSubmit={(event) => {
            event.preventDefault()
            go(code)
          }}
        >
          <Field label={words.checkIn.code} value={code} onInput={type} onEnter={go} autoComplete="off" maxLength={40} />
          {noCamera && <p role="alert">{words.checkIn.noCamera}</p>}
          <div class="row">
            <Button type="submit" kind="primary" size="key">
              {words.common.continue}
            </Button>
            {'mediaDevices' in navigator && !noCamera && (
              <Button size="key" icon={camera} onPress={() => look(true)}>
                {words.checkIn.useCamera}
              </Button>
            )}
          </div>
        </form>
      )}
    </>
  )
}
