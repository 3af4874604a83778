import { useState } from 'preact/hooks'
import type { House } from '../house/house.ts'
import { sentenceOf } from '../house/sentence.ts'
import { Button } from '../parts/button/button.tsx'
import { Field } from '../parts/field/field.tsx'
import { words } from '../words/words.ts'

/** A device that the site does not know: a code from a supervisor's screen makes it one of the day's. */
export function Enrol({ house }: { house: House }) {
  const [code, type] = useState(new URLSearchParams(location.search).get('code') ?? '')
  const [wrong, setWrong] = useState<string | undefined>(undefined)
  const enrol = async () => {
    const said = await house.api.post('/api/devices/enrolment', { code })
    if (said.said === 'recorded') await house.refreshSession()
    else setWrong(sentenceOf(said))
  }
  if (house.session.value?.setUpNeeded)
    return (
      <section class="stack narrow">
        <h2>{words.shell.enrolTitle}</h2>
        <p>{words.shell.setUpFirst}</p>
        <p>
          <a href="/set-up">{words.shell.setUpLink}</a>
        </p>
      </section>
    )
  return (
    <form
      class="stack narrow"
      onSubmit={(event) => {
        event.preventDefault()
        void enrol()
      }}
    >
      <h2>{words.shell.enrolTitle}</h2>
      <p>{words.shell.enrolHelp}</p>
      <Field label={words.shell.enrolCode} value={code} onInput={type} error={wrong} autoComplete="off" />
      <Button type="submit" kind="primary">
        {words.shell.enrol}
      </Button>
    </form>
  )
}
