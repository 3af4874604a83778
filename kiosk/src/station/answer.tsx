import type { ComponentChildren } from 'preact'
import type { House } from '../house/house.ts'
import { LastTold, lastTold } from '../shell/shell.tsx'

/** What was said to the last act: a "no" stands where the eyes are, anything else beside the line. */
export function Answer({ house, where, children }: { house: House; where: 'side' | 'main'; children?: ComponentChildren }) {
  const last = lastTold.value
  const isNo =
    last !== undefined &&
    last.outcome !== 'sending' &&
    last.outcome.said !== 'recorded' &&
    !(last.outcome.said === 'noContact' && last.keeps)
  if (where === 'main') {
    return isNo ? (
      <div class="station-no">
        <LastTold house={house} />
        {children}
      </div>
    ) : null
  }
  return isNo ? null : <LastTold house={house} />
}

/** The rule that the last act met, if it met one. */
export function refusedRule(): string | null {
  const outcome = lastTold.value?.outcome
  return outcome !== undefined && outcome !== 'sending' && outcome.said === 'refused' ? outcome.refusal.rule : null
}
