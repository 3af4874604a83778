import { useEffect, useMemo, useState } from 'preact/hooks'
import { outlook, type Outlook, type StationOutlook } from '@musterbook/day/outlook/outlook'
import type { BoardView } from '@musterbook/day/views/board'
import type { StationView } from '@musterbook/day/views/station'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { DataTable } from '../parts/data-table/data-table.tsx'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { figure, wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'

const minuteMs = 60_000
const mostPlaces = 4

/** When the day ends, what it waits for, and what a second bench or a moved colleague would change: compared before it is done. */
export function WhatIsLeft({ house, board }: { house: House; board: BoardView }) {
  const { outlook: say } = words.supervisor
  const [places, place] = useState<ReadonlyMap<string, number>>(new Map())
  // A new minute, not a new second: the plays take a moment.
  const now = Math.floor(house.clock.now.value / minuteMs) * minuteMs
  const views = useStations(house, now)
  const clearances = new Map(board.students.map(({ studentId, clearance }) => [studentId, clearance]))
  const asItIs = useMemo(() => outlook(views, clearances, new Map(), now), [views, now])
  const supposed = useMemo(() => outlook(views, clearances, places, now), [views, now, places])
  if (views.length === 0) return <p role="status">{words.office.loading}</p>
  if (asItIs.left === 0) return <EmptyState says={say.none} help={say.basis} />

  const zone = house.day.value?.timeZone ?? 'UTC'
  const change = (stationId: string, by: number) => {
    const next = Math.min(mostPlaces, Math.max(1, (places.get(stationId) ?? 1) + by))
    place(new Map(places).set(stationId, next))
  }
  return (
    <section class="stack" aria-labelledby="left">
      <h2 id="left">{say.title}</h2>
      <p class="left-ends figures">
        <strong>{say.ends(wallClock(asItIs.endsAt, zone), wallClock(asItIs.latestAt, zone))}</strong>
      </p>
      <p>
        {say.left(asItIs.left)}. {say.bottleneck(nameOf(asItIs))}.
      </p>
      <p class="quiet">{say.basis}</p>
      {places.size > 0 && (
        <div class="row">
          <p role="status" class="left-ends figures">
            {say.compared(wallClock(supposed.endsAt, zone), Math.round((supposed.endsAt - asItIs.endsAt) / minuteMs))}
          </p>
          <Button onPress={() => place(new Map())}>{say.asItIs}</Button>
        </div>
      )}
      <DataTable
        caption={say.caption}
        rows={supposed.stations}
        rowKey={({ stationId }) => stationId}
        columns={[
          { key: 'station', head: say.station, cell: ({ name }) => name },
          { key: 'left', head: say.toGo, figures: true, cell: ({ left }) => figure(left) },
          {
            key: 'takes',
            head: say.takes,
            figures: true,
            cell: ({ takesMs, measured }) => say.measured(figure(Math.round(takesMs / 6_000) / 10), measured),
          },
          {
            key: 'ends',
            head: say.endsAt,
            figures: true,
            cell: ({ endsAt }) => (endsAt === null ? words.common.none : wallClock(endsAt, zone)),
          },
          {
            key: 'places',
            head: say.places,
            cell: (station) => <Places station={station} onChange={(by) => change(station.stationId, by)} />,
          },
        ]}
      />
    </section>
  )
}

/** Every station as it stands, asked once a minute: a line held open for each would leave this screen none to ask with. */
function useStations(house: House, minute: number): readonly StationView[] {
  const [views, keep] = useState<readonly StationView[]>([])
  const { dayId, stations } = house.day.value ?? { dayId: '', stations: [] }
  useEffect(() => {
    let isLeft = false
    const asked = stations.map(({ stationId }) =>
      house.api.get<{ body: StationView }>(`/api/days/${dayId}/views/station/${encodeURIComponent(stationId)}`),
    )
    void Promise.all(asked).then((heard) => {
      const all = heard.flatMap((one) => (one.said === 'recorded' ? [one.body.body] : []))
      // One that is missing would make the day look shorter: then what was known a minute ago stands.
      if (!isLeft && all.length === stations.length) keep(all)
    })
    return () => {
      isLeft = true
    }
  }, [house, dayId, minute])
  return views
}

function Places({ station, onChange }: { station: StationOutlook; onChange: (by: number) => void }) {
  const { outlook: say } = words.supervisor
  return (
    <span class="left-places">
      <Button size="small" label={say.fewer(station.name)} onPress={() => onChange(-1)}>
        −
      </Button>
      <strong class="figures">{figure(station.places)}</strong>
      <Button size="small" label={say.more(station.name)} onPress={() => onChange(1)}>
        +
      </Button>
    </span>
  )
}

const nameOf = ({ stations, bottleneck }: Outlook): string => stations.find(({ stationId }) => stationId === bottleneck)?.name ?? ''
