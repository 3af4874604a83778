import { useState } from 'preact/hooks'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { Field } from '../parts/field/field.tsx'
import { showWhat } from '../shell/shell.tsx'
import { words } from '../words/words.ts'

/** Words that stay in the medical compartment. */
export function Note({ house, studentId, onKept }: { house: House; studentId: string; onKept: () => void }) {
  const [note, write] = useState('')
  const keep = async () => {
    if (note.trim() === '') return
    const body = { dayId: house.day.value!.dayId, studentId, kind: 'note', about: null, text: note }
    const said = await showWhat(house, words.medical.noteKept, house.api.post('/api/medical/notes', { body }))
    if (said.said !== 'recorded') return
    write('')
    onKept()
  }
  return (
    <form
      class="stack"
      onSubmit={(event) => {
        event.preventDefault()
        void keep()
      }}
    >
      <Field label={words.medical.note} hint={words.medical.noteHint} value={note} onInput={write} maxLength={2000} long optional />
      <div class="row">
        <Button type="submit">{words.medical.keepNote}</Button>
      </div>
    </form>
  )
}
