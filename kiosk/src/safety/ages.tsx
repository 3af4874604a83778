import type { SafetyView } from '@musterbook/day/views/safety'
import type { House } from '../house/house.ts'
import { Mark } from '../parts/mark/mark.tsx'
import { shortDuration, wallClock } from '../words/figures.ts'
import { overZone } from '../words/over-zone.ts'
import { words } from '../words/words.ts'
import { mustHear, type Contact } from './roll-call.ts'

interface Props {
  house: House
  safety: SafetyView
  contacts: readonly Contact[]
}

/** How old each hold is and who has not heard it, and which tablet has been silent longest: on every page. */
export function Ages({ house, safety, contacts }: Props) {
  const now = house.clock.now.value
  const zone = house.day.value?.timeZone ?? 'UTC'
  const silent = contacts
    .filter(({ purpose, lastHeardAt, unreachable }) => purpose === 'staff' && lastHeardAt !== null && unreachable)
    .sort((one, other) => (one.lastHeardAt ?? 0) - (other.lastHeardAt ?? 0))
  const [longest] = silent
  return (
    <div class="ages figures">
      {safety.holds
        .filter((hold) => !hold.lifted)
        .map((hold) => {
          const listeners = mustHear(hold, safety, contacts)
          const heard = listeners.filter(({ state }) => state === 'heard').length
          const since = words.common.since(wallClock(hold.since, zone), shortDuration(now - hold.since))
          return (
            <Mark
              key={hold.holdId}
              state="hold"
              says={`${words.safety.holdTitle(words.raiseHold.kinds[hold.kind], overZone(hold))}: ${since}. ${words.acknowledgements.tally(heard, listeners.length)}`}
            />
          )
        })}
      {longest && (
        <Mark
          state="unknown"
          says={words.safety.silentTablets(silent.length, longest.name, shortDuration(now - (longest.lastHeardAt ?? 0)))}
        />
      )}
    </div>
  )
}
