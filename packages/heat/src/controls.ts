import type { Measured } from '@musterbook/vocabulary/measured'
import type { HeatReading } from './reading.ts'

/** Invented values for tests: plausible unless a test says otherwise. */
export const celsius = (degrees: number): Measured => ({
  amount: Math.round(degrees * 10),
  unit: 'tenthsDegC',
  resolution: 1,
  method: 'sensor',
})

export const fahrenheit = (degrees: number): Measured => ({
  amount: Math.round(degrees * 10),
  unit: 'tenthsDegF',
  resolution: 1,
  method: 'sensor',
})

/** 24.5 °C WBGT on a warm, sunny morning at the track. */
export const reading = (over: Partial<HeatReading> = {}): HeatReading => ({
  readingId: 'reading-1',
  siteId: 'skarnvale',
  place: 'track',
  instrumentId: 'meter-1',
  values: { naturalWetBulb: celsius(21), globe: celsius(36), dryBulb: celsius(26) },
  sun: true,
  wetBulbKind: 'natural',
  globeDiameterMm: 150,
  settled: true,
  method: 'components',
  occurredAt: at('10:00'),
  ...over,
})

/** A reading of an instrument that shows nothing but WBGT. */
export const shown = (degrees: number, over: Partial<HeatReading> = {}): HeatReading =>
  reading({ values: { wbgt: celsius(degrees) }, method: 'instrument', ...over })

/** Epoch milliseconds of a time on an invented day. */
export function at(clock: string): number {
  const [hours = 0, minutes = 0, seconds = 0] = clock.split(':').map(Number)
  return 1_780_000_000_000 - (1_780_000_000_000 % 86_400_000) + ((hours * 60 + minutes) * 60 + seconds) * 1000
}
