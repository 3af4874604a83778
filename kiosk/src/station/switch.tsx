import type { BoardView } from '@musterbook/day/views/board'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { words } from '../words/words.ts'

interface Props {
  house: House
  stationId: string
  onSwitch: (stationId: string | null) => void
}

/** One touch between the stations that one person runs. */
export function Switch({ house, stationId, onSwitch }: Props) {
  const personId = house.session.value?.person?.personId
  const stations = house.day.value?.stations ?? []
  const theirs = stations.filter((station) => station.staff.includes(personId ?? '') || station.stationId === stationId)
  const queues = house.view<BoardView>('board').view.value?.queues ?? []
  if (theirs.length < 2)
    return (
      <Button size="small" kind="quiet" onPress={() => onSwitch(null)}>
        {words.station.chooseOther}
      </Button>
    )
  return (
    <nav class="station-switch" aria-label={words.station.yours}>
      {theirs.map((station) => {
        const waiting = queues.find((queue) => queue.stationId === station.stationId)?.waiting.length ?? 0
        const here = station.stationId === stationId
        return station.kind === 'run' ? (
          <a key={station.stationId} class="button button-normal" href={`/run?station=${encodeURIComponent(station.stationId)}`}>
            {station.name}
          </a>
        ) : (
          <Button
            key={station.stationId}
            pressed={here}
            detail={words.station.waitingThere(waiting)}
            onPress={() => onSwitch(station.stationId)}
          >
            {station.name}
          </Button>
        )
      })}
    </nav>
  )
}
