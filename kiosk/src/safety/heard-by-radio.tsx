import { useState } from 'preact/hooks'
import type { HoldView } from '@musterbook/day/views/safety'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { Dialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { Choice, Field } from '../parts/field/field.tsx'
import { wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { safetyActs } from './acts.ts'

interface Props {
  house: House
  hold: HoldView
  device: { id: string; name: string; state: 'heard' | 'notHeard' | 'unreachable' }
  /** Who works at its station: the likeliest to have said it. */
  staff: readonly string[]
}

/** What was said over the radio for a silent tablet: somebody's note beside its own state, never instead of it. */
export function HeardByRadio({ house, hold, device, staff }: Props) {
  const [open, setOpen] = useState(false)
  const [saidBy, name] = useState(staff[0] ?? '')
  const [said, write] = useState('')
  const note = hold.heardByRadio?.find(({ deviceId }) => deviceId === device.id)
  const nameOf = (personId: string) => house.staff.value.get(personId) ?? personId
  if (note)
    return (
      <strong class="heard-next figures">
        {words.safety.heardByRadioLine(
          wallClock(note.at, house.day.value?.timeZone ?? 'UTC'),
          nameOf(note.saidBy),
          note.notedBy ? nameOf(note.notedBy) : words.common.unknown,
        )}
      </strong>
    )
  if (device.state === 'heard') return null
  const save = () => {
    if (!saidBy) return
    setOpen(false)
    void safetyActs(house).heardByRadio(hold.holdId, device, saidBy, said)
  }
  return (
    <>
      <Button onPress={() => setOpen(true)} label={`${words.safety.heardByRadio}: ${device.name}`}>
        {words.safety.heardByRadio}
      </Button>
      <Dialog
        title={words.safety.heardByRadioWho(device.name)}
        open={open}
        onClose={() => setOpen(false)}
        foot={
          <Button kind="primary" onPress={save}>
            {words.common.save}
          </Button>
        }
      >
        <div class="stack">
          <p>{words.safety.heardByRadioHelp}</p>
          <Choice
            label={words.radio.who}
            value={saidBy}
            blank={words.radio.whoBlank}
            choices={[...house.staff.value].map(([value, says]) => ({ value, says }))}
            onChange={name}
          />
          <Field label={words.safety.heardByRadioWords} optional value={said} onInput={write} maxLength={500} autoComplete="off" />
        </div>
      </Dialog>
    </>
  )
}
