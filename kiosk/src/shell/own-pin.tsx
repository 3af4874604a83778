import { useState } from 'preact/hooks'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { Field } from '../parts/field/field.tsx'
import type { Outcome } from '../live/api.ts'
import { words } from '../words/words.ts'

interface Props {
  house: House
  /** Tells and shows what came of it, as everything else on this screen. */
  show: (house: House, what: string, told: Promise<Outcome>) => Promise<Outcome>
}

/** Everybody's own PIN, known to nobody else. Whoever signs on with one that was set for them meets this before anything else. */
export function OwnPin({ house, show }: Props) {
  const [old, setOld] = useState('')
  const [next, setNext] = useState('')
  const [again, setAgain] = useState('')
  const [wrong, setWrong] = useState('')
  const pin = words.ownPin
  const save = async () => {
    const problem = !/^[0-9]{4,12}$/.test(next) ? pin.wrong : next !== again ? pin.differ : ''
    setWrong(problem)
    if (problem) return
    const body = { oldPin: old, newPin: next }
    const said = await show(house, pin.changed, house.api.post('/api/office/own-pins', { envelope: house.api.stamp(), body }))
    for (const set of [setOld, setNext, setAgain]) set('')
    if (said.said === 'recorded') await house.refreshSession()
  }
  return (
    <form
      class="stack narrow"
      noValidate
      onSubmit={(event) => {
        event.preventDefault()
        void save()
      }}
    >
      <h2>{pin.title}</h2>
      {house.session.value?.person?.pin === 'first' && <p>{words.shell.firstPin}</p>}
      <Field label={pin.old} type="password" inputMode="numeric" value={old} onInput={setOld} autoComplete="current-password" />
      <Field
        label={pin.new}
        hint={pin.help}
        type="password"
        inputMode="numeric"
        value={next}
        onInput={setNext}
        error={wrong || undefined}
        autoComplete="new-password"
      />
      <Field label={pin.again} type="password" inputMode="numeric" value={again} onInput={setAgain} autoComplete="new-password" />
      <div class="row">
        <Button type="submit" kind="primary">
          {pin.save}
        </Button>
      </div>
    </form>
  )
}
