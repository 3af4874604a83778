import { useState } from 'preact/hooks'
import type { StationView } from '@musterbook/day/views/station'
import type { House } from '../house/house.ts'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Shell } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import { ChooseStation } from './choose-station.tsx'
import { StopNotice } from '../shell/stop-notice.tsx'
import { Station } from './station.tsx'
import './station.css'

/** One screen for every kind of station but the run: what is measured there picks the work area. */
export function StationScreen({ house }: { house: House }) {
  const [picked, pick] = useState<string | null>(new URLSearchParams(location.search).get('station'))
  const stationId = picked ?? house.session.value?.device?.stationId ?? null
  const found = house.day.value?.stations.find((station) => station.stationId === stationId)
  const known = found && found.kind !== 'run' ? found : undefined
  const view = known ? house.view<StationView>('station', known.stationId).view.value : undefined
  const trying = view?.students.filter(({ place }) => place === 'underWay') ?? []
  const choose = (next: string | null) => {
    pick(next)
    history.replaceState(null, '', next ? `?station=${encodeURIComponent(next)}` : location.pathname)
  }

  return (
    <>
      <Shell
        house={house}
        screen={known?.name ?? words.station.title}
        roles={['station', 'supervisor']}
        zoneId={known?.zoneId ?? null}
        here={view?.students.filter(({ place }) => place === 'underWay' || place === 'called') ?? []}
        sounds
        ownAnswers={view !== undefined}
        underWay={trying.length > 0 && <p class="figures">{trying.map(({ bib }) => words.common.bib(bib ?? '?')).join(', ')}</p>}
      >
        {() =>
          !known ? (
            <ChooseStation house={house} onChoose={choose} />
          ) : view ? (
            <Station key={known.stationId} house={house} view={view} onSwitch={choose} />
          ) : (
            <EmptyState says={words.shell.reaching} help={words.shell.reachingHelp} />
          )
        }
      </Shell>
      {view && <StopNotice house={house} zoneId={view.zoneId} stationId={view.stationId} />}
    </>
  )
}
