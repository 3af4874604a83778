import type { StationStudent } from '@musterbook/day/views/station'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { shortDuration } from '../words/figures.ts'
import { words } from '../words/words.ts'

/** Runners whose bib was seen in another zone a moment ago. The site's figure says how long that is asked. */
export const seenElsewhere = (runners: readonly StationStudent[], now: number): StationStudent[] =>
  runners.filter(({ elsewhere }) => elsewhere && now < elsewhere.askUntil)

interface Props {
  house: House
  runner: StationStudent
  onRight: (shown: string) => void
  onLeaveOut: () => void
}

/** Asked while they line up, where the gun would stand: a bib may be swapped. */
export function WhoseBib({ house, runner: { bib, elsewhere }, onRight, onLeaveOut }: Props) {
  if (!elsewhere) return null
  const age = shortDuration(Math.max(0, house.clock.now.value - elsewhere.at))
  const says = words.station.elsewhere(bib ?? '?', elsewhere.station, age)
  return (
    <div class="run-no" role="alert">
      <p>{says}</p>
      <div class="row">
        <Button onPress={() => onRight(says)}>{words.run.bibIsRight}</Button>
        <Button onPress={onLeaveOut}>{words.run.leaveOut(bib ?? '?')}</Button>
      </div>
    </div>
  )
}
