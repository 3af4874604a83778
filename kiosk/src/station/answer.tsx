import type { ComponentChildren } from 'preact'
import type { House } from '../house/house.ts'
import { stands } from '../live/api.ts'
import { LastTold, lastTold } from '../shell/shell.tsx'

/** A "no" to the last act, where the eyes are, with the ways on. */
export function RefusedHere({ house, children }: { house: House; children?: ComponentChildren }) {
  if (!isNo()) return null
  return (
    <div class="station-no">
      <LastTold house={house} />
      {children}
    </div>
  )
}

/** Anything else that was said to it stands at the foot of the line, so that no key moves under a hand. `quiet`: it is read back beside it. */
export function ToldHere({ house, quiet, children }: { house: House; quiet: boolean; children?: ComponentChildren }) {
  return (
    <div class="station-told">
      {!isNo() && !quiet && <LastTold house={house} />}
      {children}
    </div>
  )
}

/** The rule that the last act met, if it met one. */
export function refusedRule(): string | null {
  const outcome = lastTold.value?.outcome
  return outcome !== undefined && outcome !== 'sending' && outcome.said === 'refused' ? outcome.refusal.rule : null
}

function isNo(): boolean {
  const last = lastTold.value
  if (last === undefined || last.outcome === 'sending') return false
  return !stands(last.outcome)
}
