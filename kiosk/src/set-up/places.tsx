import type { StationKind } from '@musterbook/vocabulary/rules'
import { Button } from '../parts/button/button.tsx'
import { Choice, Field, Tick } from '../parts/field/field.tsx'
import { words } from '../words/words.ts'

export interface ZoneDraft {
  key: string
  name: string
  outdoor: boolean
}
export interface StationDraft {
  key: string
  /** Set where the name is the usual one; otherwise made from it. */
  id: string | null
  name: string
  zone: string
  kind: StationKind
  protocolId: string | null
}

export const usualZones: readonly ZoneDraft[] = words.office.setUp.usualZones.map(({ name, outdoor }, at) => ({
  key: `z${at}`,
  name,
  outdoor,
}))
const usual = words.office.setUp.usualStations
export const usualStations: readonly StationDraft[] = [
  { key: 's0', id: 'skinfold', name: usual.skinfold, zone: 'z0', kind: 'skinfold', protocolId: 'skinfold' },
  { key: 's1', id: 'agility', name: usual.agility, zone: 'z0', kind: 'timed', protocolId: 'agility' },
  { key: 's2', id: 'reach', name: usual.reach, zone: 'z0', kind: 'measured', protocolId: 'sitAndReach' },
  { key: 's3', id: 'bench', name: usual.bench, zone: 'z0', kind: 'loaded', protocolId: 'benchPress' },
  { key: 's4', id: 'run', name: usual.run, zone: 'z1', kind: 'run', protocolId: 'run' },
]

/** The protocol that this version offers for each kind; another can be chosen in the office. */
const protocolOf: Record<StationKind, string | null> = {
  skinfold: 'skinfold',
  timed: 'agility',
  measured: 'sitAndReach',
  loaded: 'benchPress',
  counted: null,
  run: 'run',
}

interface Props {
  zones: readonly ZoneDraft[]
  stations: readonly StationDraft[]
  onZones: (zones: readonly ZoneDraft[]) => void
  onStations: (stations: readonly StationDraft[]) => void
}

/** Zones, and the stations that stand in them. The usual ones stand there already. */
export function Places({ zones, stations, onZones, onStations }: Props) {
  const { setUp, venue, remove } = words.office
  const changeZone = (key: string, to: Partial<ZoneDraft>) => onZones(zones.map((zone) => (zone.key === key ? { ...zone, ...to } : zone)))
  const changeStation = (key: string, to: Partial<StationDraft>) =>
    onStations(stations.map((station) => (station.key === key ? { ...station, ...to } : station)))
  const inZones = zones.filter(({ name }) => name.trim() !== '').map(({ key, name }) => ({ value: key, says: name }))
  const kinds = (Object.keys(protocolOf) as StationKind[]).map((kind) => ({ value: kind, says: venue.kinds[kind] }))

  return (
    <>
      <section class="stack" aria-label={setUp.zones}>
        <h2>{setUp.zones}</h2>
        <p>{setUp.zonesHelp}</p>
        {zones.map((zone, at) => (
          <div key={zone.key} class="set-up-line">
            <Field label={setUp.zoneN(at + 1)} value={zone.name} onInput={(name) => changeZone(zone.key, { name })} maxLength={60} />
            <Tick says={venue.isOutdoor} checked={zone.outdoor} onChange={(outdoor) => changeZone(zone.key, { outdoor })} />
            <Button
              kind="quiet"
              label={`${remove}: ${setUp.removeZone(at + 1)}`}
              onPress={() => onZones(zones.filter((one) => one !== zone))}
            >
              {remove}
            </Button>
          </div>
        ))}
        <div class="row">
          <Button onPress={() => onZones([...zones, { key: crypto.randomUUID(), name: '', outdoor: false }])}>{setUp.addZone}</Button>
        </div>
      </section>
      <section class="stack" aria-label={setUp.stations}>
        <h2>{setUp.stations}</h2>
        <p>{setUp.stationsHelp}</p>
        {stations.map((station, at) => (
          <div key={station.key} class="set-up-line set-up-station">
            <Field
              label={setUp.stationN(at + 1)}
              value={station.name}
              onInput={(name) => changeStation(station.key, { name })}
              maxLength={60}
            />
            <Choice label={venue.zone} value={station.zone} choices={inZones} onChange={(zone) => changeStation(station.key, { zone })} />
            <Choice
              label={venue.kind}
              value={station.kind}
              choices={kinds}
              onChange={(kind) => changeStation(station.key, { kind: kind as StationKind, protocolId: protocolOf[kind as StationKind] })}
            />
            <Button
              kind="quiet"
              label={`${remove}: ${setUp.removeStation(at + 1)}`}
              onPress={() => onStations(stations.filter((one) => one !== station))}
            >
              {remove}
            </Button>
          </div>
        ))}
        <div class="row">
          <Button
            onPress={() =>
              onStations([
                ...stations,
                { key: crypto.randomUUID(), id: null, name: '', zone: zones[0]?.key ?? '', kind: 'timed', protocolId: protocolOf.timed },
              ])
            }
          >
            {setUp.addStation}
          </Button>
        </div>
      </section>
    </>
  )
}
