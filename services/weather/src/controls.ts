import type { By, Envelope } from '@musterbook/vocabulary/envelope'
import type { CommandId, DeviceId, PersonId, ReadingId, SiteId, ZoneId } from '@musterbook/vocabulary/ids'
import type { TakeReading } from '@musterbook/vocabulary/site'

/** Plausible readings, so that a test says only what matters to it. Invented data. */
export const celsius = (tenths: number): NonNullable<TakeReading['wbgt']> => ({
  amount: tenths,
  unit: 'tenthsDegC',
  resolution: 1,
  method: 'instrument',
})

/** 0.7 × 25.0 + 0.2 × 40.0 + 0.1 × 30.0 = 28.5 °C. */
export const hotReading = (changes: Partial<TakeReading> = {}): TakeReading => ({
  readingId: 'reading-1' as ReadingId,
  siteId: 'skarnvale' as SiteId,
  zoneId: 'track' as ZoneId,
  instrumentId: 'meter-1',
  naturalWetBulb: celsius(250),
  globe: celsius(400),
  dryBulb: celsius(300),
  wbgt: null,
  sun: true,
  wetBulbKind: 'natural',
  globeDiameterMm: 150,
  settled: true,
  confirmed: [],
  ...changes,
})

/** 0.7 × 20.0 + 0.2 × 35.0 + 0.1 × 25.0 = 23.5 °C. */
export const mildReading = (changes: Partial<TakeReading> = {}): TakeReading =>
  hotReading({ naturalWetBulb: celsius(200), globe: celsius(350), dryBulb: celsius(250), ...changes })

export const safetyOfficer: By = {
  personId: 'rashid' as PersonId,
  roles: ['safety'],
  deviceId: 'tablet-safety' as DeviceId,
  countersigned: null,
}

export const envelope = (commandId: string, occurredAt: number, changes: Partial<Envelope> = {}): Envelope => ({
  commandId: commandId as CommandId,
  deviceSequence: 1,
  occurredAt,
  steadyMs: 1_000,
  offsetMs: 0,
  bandMs: 50,
  seenVersion: 0,
  contactAgeMs: 0,
  decidedOnDevice: false,
  ...changes,
})
