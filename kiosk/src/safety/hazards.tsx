import { useState } from 'preact/hooks'
import type { SafetyView } from '@musterbook/day/views/safety'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { Dialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { NumberPad } from '../parts/number-pad/number-pad.tsx'
import { figure, shortDuration, wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { safetyActs } from './acts.ts'

/** Thunder and flash in one touch each: they restart the policy's clock. Air and wind chill are typed. */
export function Hazards({ house, safety }: { house: House; safety: SafetyView }) {
  const [typing, type] = useState<'airIndex' | 'windChill' | null>(null)
  const acts = safetyActs(house)
  const zone = house.day.value?.timeZone ?? 'UTC'
  const now = house.clock.now.value
  const newest = safety.hazards.slice(-4).reverse()
  return (
    <section class="stack" aria-labelledby="hazards">
      <h2 id="hazards">{words.safety.hazards}</h2>
      <div class="row">
        <Button onPress={() => void acts.observe('thunder', null)}>{words.safety.thunder}</Button>
        <Button onPress={() => void acts.observe('flash', null)}>{words.safety.flash}</Button>
        <Button onPress={() => type('airIndex')}>{words.safety.airIndex}</Button>
        <Button onPress={() => type('windChill')}>{words.safety.windChill}</Button>
      </div>
      {newest.length === 0 ? (
        <p>{words.safety.hazardNone}</p>
      ) : (
        <ul class="figures">
          {newest.map(({ kind, at, value }) => (
            <li key={`${kind}${at}`}>
              {words.safety.hazardAgo(
                words.safety.hazardKinds[kind] ?? kind,
                valueOf(kind, value),
                wallClock(at, zone),
                shortDuration(now - at),
              )}
            </li>
          ))}
        </ul>
      )}
      {typing && (
        <Dialog title={words.safety[typing]} open onClose={() => type(null)}>
          <NumberPad
            label={words.safety[typing]}
            unit={typing === 'windChill' ? words.safety.unit.degC : ''}
            places={typing === 'windChill' ? 1 : 0}
            negative={typing === 'windChill'}
            most={3}
            save={words.safety.saveHazard}
            onSave={(amount) => {
              type(null)
              void acts.observe(typing, amount)
            }}
          />
        </Dialog>
      )}
    </section>
  )
}

const valueOf = (kind: string, value: number | null): string =>
  value === null ? '' : kind === 'windChill' ? words.safety.degrees(value, 'degC') : figure(value)
