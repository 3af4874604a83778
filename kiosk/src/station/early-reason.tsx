import { useState } from 'preact/hooks'
import { Button } from '../parts/button/button.tsx'
import { Field } from '../parts/field/field.tsx'
import { words } from '../words/words.ts'

/** A rest not over, a class not briefed: staff may go on, and say why. */
export function EarlyReason({ onStart }: { onStart: (reason: string) => void }) {
  const [reason, write] = useState('')
  const [missing, setMissing] = useState(false)
  return (
    <form
      class="stack"
      onSubmit={(event) => {
        event.preventDefault()
        if (reason.trim() === '') setMissing(true)
        else onStart(reason.trim())
      }}
    >
      <Field
        label={words.station.earlyReason}
        value={reason}
        onInput={write}
        maxLength={300}
        error={missing && reason.trim() === '' ? words.station.moreReason : undefined}
      />
      <Button type="submit">{words.station.startEarly}</Button>
    </form>
  )
}
