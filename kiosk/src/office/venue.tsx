import { useState } from 'preact/hooks'
import type { Protocol } from '@musterbook/stations/protocol'
import { trackCheck } from '@musterbook/stations/track-check'
import type { Offer } from '@musterbook/vocabulary/office'
import type { PlacedStation, PlacedZone } from '@musterbook/vocabulary/office-events'
import type { StationKind } from '@musterbook/vocabulary/rules'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { Dialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { DataTable } from '../parts/data-table/data-table.tsx'
import { Choice, Field, Tick } from '../parts/field/field.tsx'
import { Mark } from '../parts/mark/mark.tsx'
import { figure } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { askOffice } from './ask.ts'
import { useFetched } from './fetched.ts'
import { namedIds } from './ids.ts'
import { mayAsk } from './may.ts'
import { rowActs } from './row-acts.tsx'
import { Waits } from './waits.tsx'

interface Placed {
  zones: PlacedZone[]
  stations: PlacedStation[]
}
const metres = (millimetres: number) => figure(millimetres / 1000, 3)

/** Zones with their track, and the stations that stand in them. */
export function Venue({ house }: { house: House }) {
  const venue = useFetched<Placed>(house, '/api/office/venue')
  const rules = useFetched<Offer[]>(house, '/api/office/rules')
  const [zone, editZone] = useState<PlacedZone | 'new' | undefined>(undefined)
  const [station, editStation] = useState<PlacedStation | 'new' | undefined>(undefined)
  const { venue: say, edit, editNamed, removeNamed, remove, saved } = words.office
  if (!venue.value || !rules.value) return <Waits on={venue.value ? rules : venue} />
  const { zones, stations } = venue.value
  const protocols = rules.value.filter(({ kind }) => kind === 'protocol')
  const mayChange = mayAsk(house, 'placeZone')
  const ask = async (what: string, noun: string, body: object) => {
    await askOffice(house, saved(what), noun, body)
    await venue.refresh()
  }

  return (
    <div class="stack">
      <section class="stack">
        <h2>{say.zones}</h2>
        <DataTable<PlacedZone>
          caption={say.zones}
          captionSpoken
          rows={zones}
          rowKey={(one) => one.zoneId}
          columns={[
            { key: 'name', head: say.zone, cell: (one) => one.name },
            { key: 'outdoor', head: say.outdoor, cell: (one) => (one.outdoor ? say.outdoor : say.indoor) },
            {
              key: 'track',
              head: say.track,
              cell: (one) => (one.track ? say.trackSays(metres(one.track.lapMm), metres(one.track.startOffsetMm)) : say.noTrack),
            },
            { key: 'shelter', head: say.shelter, cell: (one) => one.shelter ?? '' },
            { key: 'cooling', head: say.coolingPoint, cell: (one) => one.coolingPoint ?? '' },
            ...rowActs<PlacedZone>(mayChange, edit, (one) => [
              { says: edit, label: editNamed(one.name), onPress: () => editZone(one) },
              { says: remove, label: removeNamed(one.name), onPress: () => void ask(one.name, 'zone-removals', { zoneId: one.zoneId }) },
            ]),
          ]}
        />
        {mayChange && (
          <div class="row">
            <Button onPress={() => editZone('new')}>{say.addZone}</Button>
          </div>
        )}
      </section>
      <section class="stack">
        <h2>{say.stations}</h2>
        <DataTable<PlacedStation>
          caption={say.stations}
          captionSpoken
          rows={stations}
          rowKey={(one) => one.stationId}
          columns={[
            { key: 'name', head: say.stationName, cell: (one) => one.name },
            { key: 'zone', head: say.zone, cell: (one) => zones.find(({ zoneId }) => zoneId === one.zoneId)?.name ?? one.zoneId },
            { key: 'kind', head: say.kind, cell: (one) => say.kinds[one.kind] },
            {
              key: 'protocol',
              head: say.protocol,
              cell: (one) => (
                <span class="office-says">
                  <span>
                    {one.protocolId === null
                      ? say.noProtocol
                      : `${protocols.find(({ id }) => id === one.protocolId)?.name ?? one.protocolId}, ${words.office.rules.states[protocols.find(({ id }) => id === one.protocolId)?.state ?? 'offered'].toLowerCase()}`}
                  </span>
                  <TrackSays station={one} zones={zones} protocols={protocols} />
                </span>
              ),
            },
            ...rowActs<PlacedStation>(mayChange, edit, (one) => [
              { says: edit, label: editNamed(one.name), onPress: () => editStation(one) },
              {
                says: remove,
                label: removeNamed(one.name),
                onPress: () => void ask(one.name, 'station-removals', { stationId: one.stationId }),
              },
            ]),
          ]}
        />
        {mayChange && (
          <div class="row">
            <Button onPress={() => editStation('new')}>{say.addStation}</Button>
          </div>
        )}
      </section>
      {zone && (
        <EditZone
          zone={zone === 'new' ? undefined : zone}
          taken={zones.map(({ zoneId }) => zoneId)}
          onClose={() => editZone(undefined)}
          onSave={(to) => {
            editZone(undefined)
            void ask(to.name, 'zones', { ...to, seen: zone === 'new' ? null : zone })
          }}
        />
      )}
      {station && (
        <EditStation
          station={station === 'new' ? undefined : station}
          zones={zones}
          protocols={protocols}
          taken={stations.map(({ stationId }) => stationId)}
          onClose={() => editStation(undefined)}
          onSave={(to) => {
            editStation(undefined)
            void ask(to.name, 'stations', { ...to, seen: station === 'new' ? null : station })
          }}
        />
      )}
    </div>
  )
}

/** The venue's own track held against the distance that the protocol asks. */
function TrackSays({ station, zones, protocols }: { station: PlacedStation; zones: readonly PlacedZone[]; protocols: readonly Offer[] }) {
  const protocol = protocols.find(({ id }) => id === station.protocolId)?.content as Protocol | undefined
  if (protocol?.kind !== 'run') return null
  const { venue: say } = words.office
  const track = zones.find(({ zoneId }) => zoneId === station.zoneId)?.track
  if (!track) return <Mark state="notMet" says={say.noTrack} />
  const { distanceMm, toleranceMm, track: asked } = protocol.details
  const check = trackCheck({ ...track, laps: asked.laps }, distanceMm, toleranceMm)
  return check.isRight ? (
    <Mark state="met" says={say.trackRight(asked.laps, metres(check.runMm), protocol.name)} />
  ) : (
    <Mark
      state="notMet"
      says={say.trackWrong(
        asked.laps,
        metres(check.runMm),
        metres(Math.abs(check.differenceMm)),
        protocol.name,
        metres(check.neededStartOffsetMm),
      )}
    />
  )
}

/** Whole millimetres from metres as typed; undefined when it is not a number of them. */
function inMillimetres(typed: string): number | undefined {
  const found = /^(\d{1,5})(?:[.,](\d{1,3}))?$/.exec(typed.trim())
  return found ? Number(found[1]) * 1000 + Number((found[2] ?? '').padEnd(3, '0')) : undefined
}
const typedMetres = (millimetres: number) => String(millimetres / 1000)

interface EditZoneProps {
  zone: PlacedZone | undefined
  taken: readonly string[]
  onClose: () => void
  onSave: (zone: PlacedZone) => void
}

function EditZone({ zone, taken, onClose, onSave }: EditZoneProps) {
  const [name, setName] = useState(zone?.name ?? '')
  const [outdoor, setOutdoor] = useState(zone?.outdoor ?? false)
  const [shelter, setShelter] = useState(zone?.shelter ?? '')
  const [coolingPoint, setCooling] = useState(zone?.coolingPoint ?? '')
  const [hasTrack, setHasTrack] = useState(zone?.track != null)
  const [lap, setLap] = useState(zone?.track ? typedMetres(zone.track.lapMm) : '400')
  const [offset, setOffset] = useState(zone?.track ? typedMetres(zone.track.startOffsetMm) : '0')
  const [wrong, setWrong] = useState<{ name?: string; lap?: string; offset?: string }>({})
  const { venue: say, save: saveWord, setUp } = words.office
  const save = () => {
    const lapMm = inMillimetres(lap)
    const startOffsetMm = inMillimetres(offset)
    if (name.trim() === '') return setWrong({ name: setUp.needed })
    if (hasTrack && lapMm === undefined) return setWrong({ lap: say.wrongNumber })
    if (hasTrack && startOffsetMm === undefined) return setWrong({ offset: say.wrongNumber })
    onSave({
      zoneId: zone?.zoneId ?? (namedIds([name], taken)[0] as PlacedZone['zoneId']),
      name: name.trim(),
      outdoor,
      track: hasTrack ? { lapMm: lapMm as number, startOffsetMm: startOffsetMm as number } : null,
      shelter: shelter.trim() || null,
      coolingPoint: coolingPoint.trim() || null,
    })
  }
  return (
    <Dialog
      title={zone?.name ?? say.addZone}
      open
      onClose={onClose}
      foot={
        <Button kind="primary" onPress={save}>
          {saveWord}
        </Button>
      }
    >
      <div class="stack">
        <Field label={say.zoneName} value={name} onInput={setName} maxLength={60} error={wrong.name} />
        <Tick says={say.isOutdoor} checked={outdoor} onChange={setOutdoor} />
        <Tick says={say.hasTrack} checked={hasTrack} onChange={setHasTrack} />
        {hasTrack && (
          <div class="office-form">
            <Field label={say.lap} inputMode="decimal" unit="m" value={lap} onInput={setLap} error={wrong.lap} />
            <Field label={say.offset} inputMode="decimal" unit="m" value={offset} onInput={setOffset} error={wrong.offset} />
          </div>
        )}
        <div class="office-form">
          <Field label={say.shelter} optional value={shelter} onInput={setShelter} maxLength={120} />
          <Field label={say.coolingPoint} optional value={coolingPoint} onInput={setCooling} maxLength={120} />
        </div>
      </div>
    </Dialog>
  )
}

interface EditStationProps {
  station: PlacedStation | undefined
  zones: readonly PlacedZone[]
  protocols: readonly Offer[]
  taken: readonly string[]
  onClose: () => void
  onSave: (station: PlacedStation) => void
}

function EditStation({ station, zones, protocols, taken, onClose, onSave }: EditStationProps) {
  const [name, setName] = useState(station?.name ?? '')
  const [zoneId, setZone] = useState<string>(station?.zoneId ?? zones[0]?.zoneId ?? '')
  const [protocolId, setProtocol] = useState(station?.protocolId ?? '')
  const [wrong, setWrong] = useState('')
  const { venue: say, save: saveWord, setUp } = words.office
  const chosen = protocols.find(({ id }) => id === protocolId)
  const kind = (chosen?.content as Protocol | undefined)?.kind ?? station?.kind ?? 'timed'
  const save = () => {
    if (name.trim() === '') return setWrong(setUp.needed)
    onSave({
      stationId: station?.stationId ?? (namedIds([name], taken)[0] as PlacedStation['stationId']),
      name: name.trim(),
      zoneId: zoneId as PlacedStation['zoneId'],
      kind: kind as StationKind,
      protocolId: protocolId || null,
    })
  }
  return (
    <Dialog
      title={station?.name ?? say.addStation}
      open
      onClose={onClose}
      foot={
        <Button kind="primary" onPress={save}>
          {saveWord}
        </Button>
      }
    >
      <div class="stack">
        <Field label={say.stationName} value={name} onInput={setName} maxLength={60} error={wrong || undefined} />
        <Choice
          label={say.zone}
          value={zoneId}
          choices={zones.map((zone) => ({ value: zone.zoneId, says: zone.name }))}
          onChange={setZone}
        />
        <Choice
          label={say.protocol}
          value={protocolId}
          blank={say.noProtocol}
          choices={protocols.map(({ id, name, edition }) => ({ value: id, says: `${name}, ${edition}` }))}
          onChange={setProtocol}
        />
        <p>
          {say.kind}: {say.kinds[kind]}
        </p>
      </div>
    </Dialog>
  )
}
