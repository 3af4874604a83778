import type { House } from '../house/house.ts'
import { Mark } from '../parts/mark/mark.tsx'
import { raceTime } from '../words/figures.ts'
import { words } from '../words/words.ts'

/** The rest since the last try, counting down on the site's clock; it never hides that it is over. */
export function RestLeft({ house, until }: { house: House; until: number | null }) {
  if (until === null) return null
  const left = until - house.clock.now.value
  return (
    <p class="rest figures" role="timer" aria-live="off">
      {left > 0 ? (
        <Mark state="waiting" large says={words.station.rest(countdown(left))} />
      ) : (
        <Mark state="met" says={words.station.restOver} />
      )}
    </p>
  )
}

/** 2:05, or 0:09: never rounded down to nothing while something is left. */
export const countdown = (left: number): string => {
  const seconds = Math.ceil(left / 1000)
  return seconds < 60 ? `0:${String(seconds).padStart(2, '0')}` : raceTime(seconds * 100, 0)
}
