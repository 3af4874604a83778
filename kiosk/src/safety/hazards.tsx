import { useState } from 'preact/hooks'
import type { SafetyView } from '@musterbook/day/views/safety'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { Dialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { Mark } from '../parts/mark/mark.tsx'
import { NumberPad } from '../parts/number-pad/number-pad.tsx'
import { shortDuration, wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { safetyActs } from './acts.ts'
import { callsForHold, hazardSays, newestOf, valueSays } from './air-and-cold.ts'

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
      {(['air', 'cold'] as const).map((kind) => {
        const last = newestOf(safety, kind, 0)
        const isHeld = safety.holds.some((hold) => hold.kind === kind && !hold.lifted)
        if (!last || isHeld || !callsForHold(safety, kind, last.value)) return null
        return <Mark key={kind} state="notMet" says={words.safety.callsForHold(hazardSays(last.kind, last.value))} />
      })}
      {newest.length === 0 ? (
        <p>{words.safety.hazardNone}</p>
      ) : (
        <ul class="figures">
          {newest.map(({ kind, at, value }) => (
            <li key={`${kind}${at}`}>
              {words.safety.hazardAgo(
                words.safety.hazardKinds[kind] ?? kind,
                valueSays(kind, value),
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
