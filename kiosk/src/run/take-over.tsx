import { signal } from '@preact/signals'
import { useState } from 'preact/hooks'
import type { WaveView } from '@musterbook/day/views/station'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { ConfirmDialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { useContacts } from '../safety/contacts.ts'
import { figure, shortDuration, wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import type { RunActs } from './acts.ts'

interface Props {
  house: House
  wave: WaveView
  name: string
  acts: RunActs
}

/** Waves of other tablets that somebody counts along here, as a second scorer. */
const countedAlong = signal<ReadonlySet<string>>(new Set())

/** Is another tablet carrying this wave, and nobody counting along here? Who has touched a key of it goes on touching. */
export function isElsewhere(house: House, wave: WaveView, touches: number): boolean {
  const own = house.session.value?.device?.deviceId
  return wave.open && wave.carriedBy.deviceId !== own && touches === 0 && !countedAlong.value.has(wave.waveId)
}

/** A wave that another tablet carries: who has it and since when, and two touches to carry it on from here. */
export function Elsewhere({ house, wave, name, acts }: Props) {
  const [asking, ask] = useState(false)
  const device = useCarrier(house, wave)
  const zone = house.day.value?.timeZone ?? 'UTC'
  const { since, personId } = wave.carriedBy
  const by = personId ? (house.staff.value.get(personId) ?? personId) : null
  const band = seconds(wave.gunBandMs + (house.clock.bandMs.value ?? 0))
  return (
    <section class="run-elsewhere stack" aria-label={words.run.elsewhere(name, device.name)}>
      <h2>{words.run.elsewhere(name, device.name)}</h2>
      <p>{words.run.elsewhereSince(wallClock(since, zone, true), by)}</p>
      {device.silentMs !== null && <p>{words.run.elsewhereHeard(shortDuration(device.silentMs))}</p>}
      <div class="row">
        <Button kind="primary" size="key" detail={words.run.takeOverDetail} onPress={() => ask(true)}>
          {words.run.takeOver}
        </Button>
        <Button
          size="key"
          detail={words.run.countAlongDetail}
          onPress={() => (countedAlong.value = new Set([...countedAlong.value, wave.waveId]))}
        >
          {words.run.countAlong}
        </Button>
      </div>
      <ConfirmDialog
        title={words.run.takeOverTitle(name, device.name)}
        open={asking}
        confirm={words.run.takeOverConfirm}
        onClose={() => ask(false)}
        onConfirm={() => {
          ask(false)
          void acts.takeOver(wave.waveId, device.name)
        }}
      >
        <ul class="run-sentences">
          {words.run.takeOverMeans(wallClock(wave.gunAt, zone, true), band, device.name).map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
      </ConfirmDialog>
    </section>
  )
}

/** Said above the pad on a tablet whose wave another one has taken over: its touches are second witnesses from here. */
export function TakenFromHere({ house, wave, acts }: Omit<Props, 'name'>) {
  const device = useCarrier(house, wave)
  const { takenOver, since, deviceId } = wave.carriedBy
  if (!wave.open || !takenOver || deviceId === house.session.value?.device?.deviceId) return null
  return (
    <div class="run-note" role="status">
      <p>{words.run.takenFromHere(device.name, wallClock(since, house.day.value?.timeZone ?? 'UTC', true))}</p>
      <Button onPress={() => void acts.takeOver(wave.waveId, device.name)}>{words.run.takeBackWave}</Button>
    </div>
  )
}

function useCarrier(house: House, { carriedBy: { deviceId } }: WaveView): { name: string; silentMs: number | null } {
  const contact = useContacts(house).find((one) => one.deviceId === deviceId)
  const silentMs = contact?.lastHeardAt ? Math.max(0, house.clock.now.value - contact.lastHeardAt) : null
  return { name: contact?.name ?? words.run.anotherTablet, silentMs }
}

const seconds = (band: number): string => figure(Math.ceil(band / 100) / 10)
