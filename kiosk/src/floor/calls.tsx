import { useEffect, useState } from 'preact/hooks'
import type { FloorView } from '@musterbook/day/views/board'
import type { ObservationId } from '@musterbook/vocabulary/ids'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { tell } from '../shell/shell.tsx'
import { shortDuration } from '../words/figures.ts'
import { words } from '../words/words.ts'

/** Somebody at a kiosk or a board has raised a hand: whoever goes says so, and the kiosk shows it. */
export function Calls({ house, calls }: { house: House; calls: FloorView['calls'] }) {
  const [names, setNames] = useState<ReadonlyMap<string, string>>(new Map())
  useEffect(() => {
    void house.api.get<{ deviceId: string; name: string }[]>('/api/devices/contacts').then((heard) => {
      if (heard.said === 'recorded') setNames(new Map(heard.body.map(({ deviceId, name }) => [deviceId, name])))
    })
  }, [house, calls.length])
  if (calls.length === 0) return null
  return (
    <section class="floor-calls" role="alert" aria-labelledby="calls">
      <h2 id="calls">{words.floor.callsTitle}</h2>
      <ul>
        {calls.map(({ callId, deviceId, at }) => (
          <li key={callId} class="row">
            <span aria-live="off" class="figures">
              {words.floor.callFrom(names.get(deviceId) ?? words.floor.aDevice, shortDuration(house.clock.now.value - at))}
            </span>
            <Button
              kind="primary"
              onPress={() => void tell(house, words.floor.callAnswered, 'answerCall', { callId: callId as ObservationId })}
            >
              {words.floor.goThere}
            </Button>
          </li>
        ))}
      </ul>
    </section>
  )
}
