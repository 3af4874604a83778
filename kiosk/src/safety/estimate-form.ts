import { estimateWbgt, type EstimateRequest, type WbgtEstimate } from '@musterbook/heat/estimate-wbgt'
import type { ReadingId, SiteId, ZoneId } from '@musterbook/vocabulary/ids'
import type { TakeReading } from '@musterbook/vocabulary/site'

/** The heat balance needs a weather station with irradiance; without one there is only the screening formula. */
export type EstimateMethod = 'liljegren2008' | 'simplified'

type Asked = 'air' | 'humidity' | 'wind' | 'irradiance' | 'latitude' | 'longitude' | 'pressure'
/** As typed, in the order in which they are asked. */
export type Typed = Record<Asked, string>

export const nothingTyped: Typed = { air: '', humidity: '', wind: '', irradiance: '', latitude: '', longitude: '', pressure: '' }
export const placeAsked = ['latitude', 'longitude', 'pressure'] as const

/** Widest values anybody could read, and the decimals that are kept: what is computed with is what is recorded. */
const limits: Readonly<Record<Asked, { from: number; to: number; places: number }>> = {
  air: { from: -30, to: 60, places: 1 },
  humidity: { from: 0, to: 100, places: 0 },
  wind: { from: 0, to: 60, places: 1 },
  irradiance: { from: 0, to: 1_400, places: 0 },
  latitude: { from: -90, to: 90, places: 2 },
  longitude: { from: -180, to: 180, places: 2 },
  pressure: { from: 500, to: 1_100, places: 0 },
}

export const limitsOf = (asked: Asked) => limits[asked]

export const askedBy = (method: EstimateMethod): readonly Asked[] =>
  method === 'simplified' ? ['air', 'humidity'] : ['air', 'humidity', 'wind', 'irradiance', ...placeAsked]

/** The number that was typed, with a point or a comma, or nothing when it is none or lies outside what can be. */
export function numberOf(asked: Asked, typed: string): number | undefined {
  const { from, to, places } = limits[asked]
  const text = typed.trim().replace(',', '.').replace('−', '-')
  if (!/^-?\d+(\.\d+)?$/.test(text)) return undefined
  const value = Number(Number(text).toFixed(places))
  return value >= from && value <= to ? value : undefined
}

/** A station shows means of the last ten minutes (common practice). */
const averagingMinutes = 10
/** The globe of the published model: a 150 mm one reads 1.0 to 1.5 °C more WBGT in strong sun. */
const globeDiameterM = 0.0508

export interface Worked {
  readonly method: EstimateMethod
  readonly estimate: WbgtEstimate
  /** The sun shone, as far as the inputs say; the screening formula takes it that it did. */
  readonly sun: boolean
}

/**
 * Works the WBGT out once, or says nothing when a value is missing or the balance does not settle. What it was worked out
 * from goes into the method, so that it is kept with the value.
 *
 * @param epochMs when the values were shown, by the site's clock
 */
export function workOut(method: EstimateMethod, typed: Typed, epochMs: number): Worked | undefined {
  const values = Object.fromEntries(askedBy(method).map((asked) => [asked, numberOf(asked, typed[asked])]))
  if (askedBy(method).some((asked) => values[asked] === undefined)) return undefined
  const { air, humidity, wind, irradiance, latitude, longitude, pressure } = values as Record<Asked, number>
  const request: EstimateRequest =
    method === 'simplified'
      ? { method, dryBulbDegC: air, relativeHumidityPercent: humidity }
      : {
          method,
          weather: {
            dryBulbDegC: air,
            relativeHumidityPercent: humidity,
            windMPerS: wind,
            solarWPerM2: irradiance,
            pressureHPa: pressure,
          },
          station: { latitudeDegNorth: latitude, longitudeDegEast: longitude, epochMs, averagingMinutes, globeDiameterM },
        }
  const estimate = estimateWbgt(request)
  if (!estimate) return undefined
  const from =
    method === 'simplified'
      ? `${air}C ${humidity}%`
      : `${air}C ${humidity}% ${wind}m/s ${irradiance}W/m2 ${pressure}hPa ${latitude}N ${longitude}E`
  const wbgt = { ...estimate.wbgt, method: `${estimate.wbgt.method}; ${from}` }
  return { method, estimate: { ...estimate, wbgt }, sun: method === 'simplified' || irradiance > 0 }
}

/** What stands in the place of the instrument wherever the reading is shown: there was none. */
const insteadOfInstrument: Readonly<Record<EstimateMethod, string>> = {
  liljegren2008: 'estimated, Liljegren 2008',
  simplified: 'estimated, simplified: for screening only',
}

/** Told as a reading. Nothing has to settle in an estimate, and its method alone bars it from lifting a hold. */
export const estimatedReading = (
  { method, estimate, sun }: Worked,
  ids: { readingId: string; siteId: string; zoneId: string },
  confirmed: readonly string[],
): TakeReading => ({
  readingId: ids.readingId as ReadingId,
  siteId: ids.siteId as SiteId,
  zoneId: ids.zoneId as ZoneId,
  instrumentId: insteadOfInstrument[method],
  naturalWetBulb: null,
  globe: null,
  dryBulb: null,
  // The unit in which every estimate comes.
  wbgt: { ...estimate.wbgt, unit: 'hundredthsDegC' },
  sun,
  wetBulbKind: 'derived',
  globeDiameterMm: Math.round(globeDiameterM * 1000),
  settled: true,
  confirmed: [...confirmed],
})
