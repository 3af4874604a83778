import type { StationId, ZoneId } from '@musterbook/vocabulary/ids'
import type { Office, Site } from '@musterbook/vocabulary/office'
import { type PlacedStation, type PlacedZone, VenueEvent } from '@musterbook/vocabulary/office-events'
import { officeRefusal } from '@musterbook/vocabulary/office-refusals'
import { type Book, book } from './book.ts'
import { changedSince } from './changed-since.ts'
import type { Desk } from './desk.ts'
import { having, without } from './with.ts'

interface State {
  site: Site | null
  zones: ReadonlyMap<ZoneId, PlacedZone>
  stations: ReadonlyMap<StationId, PlacedStation>
}
export type VenueBook = Book<State, VenueEvent>

export const venueBook = (desk: Desk): VenueBook =>
  book<State, VenueEvent>(desk, {
    name: 'venue',
    schema: VenueEvent,
    empty: { site: null, zones: new Map(), stations: new Map() },
    evolve,
  })

function evolve(state: State, event: VenueEvent): State {
  switch (event.type) {
    case 'siteSetUp':
      return { ...state, site: { siteId: event.siteId, name: event.name, timeZone: event.timeZone } }
    case 'zonePlaced': {
      const { type: _, ...zone } = event
      return { ...state, zones: having(state.zones, zone.zoneId, zone) }
    }
    case 'zoneRemoved':
      return { ...state, zones: without(state.zones, event.zoneId) }
    case 'stationPlaced': {
      const { type: _, ...station } = event
      return { ...state, stations: having(state.stations, station.stationId, station) }
    }
    case 'stationRemoved':
      return { ...state, stations: without(state.stations, event.stationId) }
  }
}

/** Where a test day stands: zones in and out of doors, the track as it was measured, and which station is where. */
export function venue(
  book: VenueBook,
  siteId: () => Promise<string>,
): Pick<Office, 'venue' | 'placeZone' | 'removeZone' | 'placeStation' | 'removeStation'> {
  return {
    venue: async () => {
      const { zones, stations } = (await book.read(await siteId())).state
      return { zones: [...zones.values()], stations: [...stations.values()] }
    },
    placeZone: async (body, told) => {
      const { seen, ...zone } = body
      const written = await book.write(
        await siteId(),
        'placeZone',
        body,
        told,
        ({ zones }) => changedSince(zones.get(zone.zoneId) ?? null, seen) ?? [{ type: 'zonePlaced', ...zone }],
      )
      return 'refused' in written ? written : { zoneId: body.zoneId }
    },
    removeZone: async (body, told) => {
      const written = await book.write(await siteId(), 'removeZone', body, told, ({ zones, stations }) => {
        if (!zones.has(body.zoneId)) return officeRefusal('noSuchZone')
        if ([...stations.values()].some(({ zoneId }) => zoneId === body.zoneId)) return officeRefusal('zoneInUse')
        return [{ type: 'zoneRemoved', zoneId: body.zoneId }]
      })
      return 'refused' in written ? written : { zoneId: body.zoneId }
    },
    placeStation: async (body, told) => {
      const { seen, ...station } = body
      const written = await book.write(await siteId(), 'placeStation', body, told, ({ zones, stations }) => {
        if (!zones.has(station.zoneId)) return officeRefusal('noSuchZone')
        return changedSince(stations.get(station.stationId) ?? null, seen) ?? [{ type: 'stationPlaced', ...station }]
      })
      return 'refused' in written ? written : { stationId: body.stationId }
    },
    removeStation: async (body, told) => {
      const written = await book.write(await siteId(), 'removeStation', body, told, ({ stations }) =>
        stations.has(body.stationId) ? [{ type: 'stationRemoved', stationId: body.stationId }] : officeRefusal('noSuchStation'),
      )
      return 'refused' in written ? written : { stationId: body.stationId }
    },
  }
}
