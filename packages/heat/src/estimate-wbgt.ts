import type { Measured } from '@musterbook/vocabulary/measured'
import { bernardNaturalWetBulb, simplifiedWbgt, stullWetBulb, wbgtFromHeatIndex } from './estimates.ts'
import { liljegrenAtStation, type Station, type Weather } from './liljegren.ts'
import { wetBulbDegC } from './psychrometrics.ts'

/** What there is in the place of the missing instrument. */
export type EstimateRequest =
  /** Weather of a station: the best there is, for outdoors. */
  | { readonly method: 'liljegren2008'; readonly weather: Weather; readonly station: Station }
  /** A globe and a dry bulb, and for the wet bulb an aspirated one or the humidity: for indoors. */
  | {
      readonly method: 'bernard1999'
      readonly dryBulbDegC: number
      readonly globeDegC: number
      readonly windMPerS: number
      readonly sun: boolean
      readonly wetBulb:
        | { readonly psychrometricWetBulbDegC: number }
        | { readonly relativeHumidityPercent: number; readonly by: 'ashrae2017' | 'stull2011' }
    }
  /** Dry bulb and humidity alone, for screening only. */
  | { readonly method: 'simplified'; readonly dryBulbDegC: number; readonly relativeHumidityPercent: number }
  /** A heat index alone, for screening only. */
  | { readonly method: 'heatIndex'; readonly heatIndexDegF: number }

export interface WbgtEstimate {
  /** Hundredths of a degree, rounded once, half up, and marked as an estimate by its method. From here on it is an integer. */
  readonly wbgt: Measured
  /** Says too little to plan a day by. */
  readonly screeningOnly: boolean
  /** Inputs outside what the method's source covers. */
  readonly outside: readonly string[]
}

/**
 * A WBGT where an instrument is missing, or nothing when the method comes to no number. It may raise a hold and never
 * lifts one. It is computed once, where it is told, and kept with its inputs: the last bit of these functions differs
 * between engines.
 */
export function estimateWbgt(request: EstimateRequest): WbgtEstimate | undefined {
  const { degC, outside } = estimateOf(request)
  if (degC === undefined || !Number.isFinite(degC)) return undefined
  const wbgt: Measured = {
    amount: Math.floor(degC * 100 + 0.5),
    unit: 'hundredthsDegC',
    resolution: 1,
    method: `estimate: ${request.method}`,
  }
  return { wbgt, screeningOnly: request.method === 'simplified' || request.method === 'heatIndex', outside }
}

function estimateOf(request: EstimateRequest): { degC: number | undefined; outside: readonly string[] } {
  switch (request.method) {
    case 'liljegren2008':
      return { degC: liljegrenAtStation(request.weather, request.station)?.wbgtDegC, outside: outsideOf(request.weather) }
    case 'bernard1999':
      return bernard(request)
    case 'simplified':
      return simplifiedWbgt(request)
    case 'heatIndex':
      return wbgtFromHeatIndex(request.heatIndexDegF)
  }
}

function bernard(request: Extract<EstimateRequest, { method: 'bernard1999' }>) {
  const { dryBulbDegC, globeDegC, sun } = request
  const aspirated = aspiratedOf(dryBulbDegC, request.wetBulb)
  const natural = bernardNaturalWetBulb({ ...request, psychrometricWetBulbDegC: aspirated.degC })
  const degC = 0.7 * natural.degC + (sun ? 0.2 * globeDegC + 0.1 * dryBulbDegC : 0.3 * globeDegC)
  return { degC, outside: [...aspirated.outside, ...natural.outside] }
}

function aspiratedOf(dryBulbDegC: number, wetBulb: Extract<EstimateRequest, { method: 'bernard1999' }>['wetBulb']) {
  if ('psychrometricWetBulbDegC' in wetBulb) return { degC: wetBulb.psychrometricWetBulbDegC, outside: [] }
  const air = { dryBulbDegC, relativeHumidityPercent: wetBulb.relativeHumidityPercent }
  return wetBulb.by === 'stull2011' ? stullWetBulb(air) : { degC: wetBulbDegC(air), outside: [] }
}

const outsideOf = ({ relativeHumidityPercent, windMPerS, solarWPerM2 }: Weather) => [
  ...(relativeHumidityPercent < 0 || relativeHumidityPercent > 100 ? ['relativeHumidity'] : []),
  ...(windMPerS < 0 ? ['wind'] : []),
  ...(solarWPerM2 < 0 ? ['solarIrradiance'] : []),
]
