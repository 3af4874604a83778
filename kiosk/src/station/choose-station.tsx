import type { BoardView } from '@musterbook/day/views/board'
import type { House } from '../house/house.ts'
import { words } from '../words/words.ts'

/** The stations of the day: those of whoever is signed on first. */
export function ChooseStation({ house, onChoose }: { house: House; onChoose: (stationId: string) => void }) {
  const personId = house.session.value?.person?.personId
  const queues = house.view<BoardView>('board').view.value?.queues ?? []
  const stations = [...(house.day.value?.stations ?? [])].sort(
    (one, other) => Number(isTheirs(other, personId)) - Number(isTheirs(one, personId)),
  )
  return (
    <section class="stack" aria-labelledby="choose-station">
      <h2 id="choose-station">{words.station.choose}</h2>
      <p>{words.station.chooseHelp}</p>
      <ul class="station-choices">
        {stations.map((station) => {
          const waiting = queues.find((queue) => queue.stationId === station.stationId)?.waiting.length ?? 0
          const inside = (
            <>
              <span class="station-choice-name">{station.name}</span>
              <span class="figures">{words.station.waitingThere(waiting)}</span>
            </>
          )
          return (
            <li key={station.stationId}>
              {station.kind === 'run' ? (
                <a class="button button-normal station-choice" href={`/run?station=${encodeURIComponent(station.stationId)}`}>
                  {inside}
                </a>
              ) : (
                <button type="button" class="button button-normal station-choice" onClick={() => onChoose(station.stationId)}>
                  {inside}
                </button>
              )}
            </li>
          )
        })}
      </ul>
    </section>
  )
}

const isTheirs = (station: { staff: readonly string[] }, personId: string | undefined) =>
  personId !== undefined && station.staff.includes(personId)
