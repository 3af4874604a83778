import type { HoldKind } from '@musterbook/vocabulary/hold'
import { shortDuration, wallClock } from '../../words/figures.ts'
import { words } from '../../words/words.ts'
import { Shape } from '../mark/mark.tsx'
import { read, type Live } from '../live.ts'
import './hold-strip.css'

export interface HoldShown {
  holdId: string
  kind: HoldKind
  /** The zone's name; nothing for everywhere outdoors. */
  zone: string | null
  /** When it came into force, on the site's clock. */
  since: number
  /** Who raised it: a person, a device that nobody was signed on to, or the policy. */
  by: string
  /** The reading it rests on, with age, place and instrument. */
  because?: string | undefined
}

/** One hold in force: what, where, since when, how long, by whom. Stays until the hold is lifted. */
export function HoldStrip({ hold, now, zone }: { hold: HoldShown; now: Live<number>; zone: string }) {
  return (
    <div class="hold-strip" role="alert">
      <Shape state="hold" />
      <p class="hold-strip-words">
        <strong>{words.hold.zone(hold.zone ?? words.raiseHold.wholeSite)}</strong>
        <span>{words.hold.reason(words.raiseHold.kinds[hold.kind])}</span>
        <Since hold={hold} now={now} zone={zone} />
        <span>{words.common.by(hold.by)}</span>
        {hold.because && <span>{hold.because}</span>}
      </p>
    </div>
  )
}

// Read out once when the hold comes, not once a second: the age is for the eye.
function Since({ hold, now, zone }: { hold: HoldShown; now: Live<number>; zone: string }) {
  return (
    <span aria-live="off" class="figures">
      {words.common.since(wallClock(hold.since, zone), shortDuration(read(now) - hold.since))}
    </span>
  )
}
