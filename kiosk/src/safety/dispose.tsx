import type { HoldView } from '@musterbook/day/views/safety'
import type { Disposition } from '@musterbook/vocabulary/hold'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { words } from '../words/words.ts'
import { safetyActs } from './acts.ts'

const choices: readonly Disposition[] = ['stopAndWalkIn', 'finishThisLap', 'finishTheRun']

/** What becomes of everybody under way: the most protective first, and each gets a recorded outcome. */
export function Dispose({ house, hold, brief }: { house: House; hold: HoldView; brief?: boolean }) {
  const acts = safetyActs(house)
  return (
    <div class="dispose" role="group" aria-label={words.safety.choose(hold.dispositionDue)}>
      <p>
        <strong>{words.safety.choose(hold.dispositionDue)}</strong>
      </p>
      <div class="dispose-keys">
        {choices.map((choice, index) => (
          <Button
            key={choice}
            size={brief ? 'normal' : 'key'}
            kind={index === 0 ? 'primary' : 'normal'}
            {...(!brief && { detail: words.safety.dispositionHelp[choice] })}
            onPress={() => void acts.dispose(hold.holdId, choice)}
          >
            {words.safety.dispositions[choice]}
          </Button>
        ))}
      </div>
    </div>
  )
}
