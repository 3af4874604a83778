import { useState } from 'preact/hooks'
import type { Device } from '@musterbook/vocabulary/office'
import type { UnsentTold } from '@musterbook/vocabulary/office-events'
import type { House } from '../house/house.ts'
import { ConfirmDialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { Field } from '../parts/field/field.tsx'
import { shortDuration } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { askOffice } from './ask.ts'

interface Props {
  house: House
  device: Device
  /** What it said last that it alone keeps; null: nothing since the server started. */
  unsent: UnsentTold | null
  onDone: () => void
}

/** With no day open there is no policy's own. */
const usualContactAgeMs = 5 * 60_000

/** Locks a tablet that is lost, after what it alone keeps was said; or takes the lock off again. */
export function LockDevice({ house, device, unsent, onDone }: Props) {
  const [reason, setReason] = useState('')
  const [isMissing, miss] = useState(false)
  const say = words.supervisor.devices
  const isLocked = device.locked !== null
  const now = house.clock.now.value
  const isOld = unsent !== null && now - unsent.at > (house.day.value?.contactAgeMs ?? usualContactAgeMs)
  const strands = !isLocked && (unsent === null || isOld || unsent.acts + unsent.photos > 0)
  const ask = () => {
    if (reason.trim() === '') return miss(true)
    const { deviceId, name } = device
    const asked = isLocked
      ? askOffice(house, say.unlocked(name), 'device-unlocks', { deviceId, reason })
      : askOffice(house, say.locked(name), 'device-locks', { deviceId, reason, unsentShown: unsent })
    void asked.then(onDone)
  }
  return (
    <ConfirmDialog
      title={isLocked ? say.unlockNamed(device.name) : say.lockNamed(device.name)}
      open
      confirm={isLocked ? say.unlock : strands ? say.lockAnyway : say.lock}
      onClose={onDone}
      onConfirm={ask}
    >
      {!isLocked && <p>{say.lockHelp(device.name)}</p>}
      {!isLocked && <p class={strands ? 'trouble' : undefined}>{saidOf(unsent, now)}</p>}
      {!isLocked && isOld && <p class="trouble">{say.lockOld}</p>}
      <Field
        label={isLocked ? say.unlockReason : say.lockReason}
        hint={isLocked ? undefined : say.lockReasonHint}
        error={isMissing && reason.trim() === '' ? say.reasonMissing : undefined}
        value={reason}
        onInput={setReason}
      />
    </ConfirmDialog>
  )
}

function saidOf(unsent: UnsentTold | null, now: number): string {
  const say = words.supervisor.devices
  if (!unsent) return say.lockUnknown
  const age = shortDuration(Math.max(0, now - unsent.at))
  return unsent.acts + unsent.photos === 0 ? say.lockNothing(age) : say.lockStrands(unsent.acts, unsent.photos, age)
}
