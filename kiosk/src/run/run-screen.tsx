import { useState } from 'preact/hooks'
import type { SafetyView } from '@musterbook/day/views/safety'
import type { StationView } from '@musterbook/day/views/station'
import type { House } from '../house/house.ts'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { Shell } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import { StopNotice } from '../shell/stop-notice.tsx'
import { isOut } from './touches.ts'
import { Track } from './track.tsx'
import { WaveClock } from './wave-clock.tsx'
import './run.css'

/** The track: waves are put together, started, counted round and looked over. */
export function RunScreen({ house }: { house: House }) {
  const [picked, pick] = useState<string | null>(null)
  const runs = house.day.value?.stations.filter(({ kind }) => kind === 'run') ?? []
  const own = picked ?? house.session.value?.device?.stationId
  const station = runs.find(({ stationId }) => stationId === own) ?? runs[0]
  const view = station && house.view<StationView>('station', station.stationId).view.value
  const safety = house.day.value && house.view<SafetyView>('safety').view.value
  const out = view?.waves.flatMap((wave) => wave.runners.filter(isOut)) ?? []

  return (
    <>
      <Shell
        house={house}
        screen={words.run.title}
        roles={['station', 'supervisor']}
        zoneId={station?.zoneId ?? null}
        here={out}
        sounds
        ownAnswers
        underWay={out.length > 0 && view && <LockedWaves house={house} view={view} />}
      >
        {() =>
          !station ? (
            <EmptyState says={words.run.noRun} help={words.run.noRunHelp} />
          ) : (
            <div class="stack">
              {runs.length > 1 && (
                <Tabs
                  label={words.run.which}
                  value={station.stationId}
                  choices={runs.map(({ stationId, name }) => ({ value: stationId, says: name }))}
                  onChange={pick}
                />
              )}
              {view && safety ? (
                <Track key={station.stationId} house={house} view={view} safety={safety} />
              ) : (
                <EmptyState says={words.shell.reaching} help={words.shell.reachingHelp} />
              )}
            </div>
          )
        }
      </Shell>
      {station && (
        <StopNotice house={house} zoneId={station.zoneId} stationId={station.stationId}>
          {() => <p class="run-stop">{words.run.stopTheWave}</p>}
        </StopNotice>
      )}
    </>
  )
}

/** Its clock and who is out, for whoever comes to a screen that has locked: the two stops need no name. */
function LockedWaves({ house, view }: { house: House; view: StationView }) {
  return view.waves.map((wave) => {
    const out = wave.runners.filter(isOut)
    if (out.length === 0) return null
    return (
      <div key={wave.waveId} class="locked-wave">
        <WaveClock house={house} wave={wave} />
        <p class="figures">{out.map(({ bib }) => words.common.bib(bib ?? '?')).join(', ')}</p>
      </div>
    )
  })
}
