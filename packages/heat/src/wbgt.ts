import { type Exact, exact, plus, roundHalfUp, times } from './exact.ts'
import { type HeatReading, isEstimate } from './reading.ts'
import { type Scale, type Temperature, temperatureOf, toScale } from './temperature.ts'

/**
 * Outdoors with sun load: 0.7 natural wet bulb, 0.2 globe, 0.1 dry bulb. The weights sum to 1, so it holds on any scale;
 * the result stands on the wet bulb's.
 *
 * Source: ISO 7243; NIOSH 2016-106; OSHA Technical Manual III:4.
 */
export function wbgtInSun(naturalWetBulb: Temperature, globe: Temperature, dryBulb: Temperature): Temperature {
  return weighted([7, naturalWetBulb], [2, globe], [1, dryBulb])
}

/** Indoors, or outdoors with no sun load: 0.7 natural wet bulb, 0.3 globe; the dry bulb is not used. Source: as above. */
export function wbgtWithoutSun(naturalWetBulb: Temperature, globe: Temperature): Temperature {
  return weighted([7, naturalWetBulb], [3, globe])
}

type Weighted = readonly [tenths: number, temperature: Temperature]

function weighted(first: Weighted, ...rest: Weighted[]): Temperature {
  const { scale } = first[1]
  const share = ([tenths, temperature]: Weighted): Exact => times(exact(tenths, 10), toScale(temperature, scale).degrees)
  return { degrees: rest.map(share).reduce(plus, share(first)), scale }
}

/** Which rule gave the WBGT; shown beside it wherever it stands. */
export type WbgtRule = 'inSun' | 'withoutSun' | 'asShown' | 'estimated'

export interface Wbgt {
  /** Tenths of a degree of `unit`: converted once and rounded once, half up. What bounds are compared with. */
  readonly tenths: number
  readonly unit: 'degC' | 'degF'
  readonly rule: WbgtRule
}

/**
 * The WBGT of a reading in a policy's unit, or nothing when a value that its formula needs is missing: nothing is
 * silently taken for zero or for another bulb.
 *
 * Tables are printed to a tenth and none says what 89.95 is. Here it is 90.0: exact until the end, converted once,
 * rounded once, half up, which errs to the hot side.
 */
export function wbgtOf(reading: HeatReading, unit: 'degC' | 'degF'): Wbgt | undefined {
  const temperature = exactWbgtOf(reading)
  if (!temperature) return undefined
  return { tenths: tenthsOf(temperature, unit), unit, rule: ruleOf(reading) }
}

/** The WBGT of a reading with nothing rounded or converted, or nothing when a value is missing. */
export function exactWbgtOf(reading: HeatReading): Temperature | undefined {
  const { naturalWetBulb, globe, dryBulb, wbgt } = reading.values
  if (reading.method !== 'components') return wbgt ? temperatureOf(wbgt) : undefined
  if (!naturalWetBulb || !globe) return undefined
  if (!reading.sun) return wbgtWithoutSun(temperatureOf(naturalWetBulb), temperatureOf(globe))
  return dryBulb ? wbgtInSun(temperatureOf(naturalWetBulb), temperatureOf(globe), temperatureOf(dryBulb)) : undefined
}

/** Tenths of a degree on that scale: converted once, rounded once, half up. */
export const tenthsOf = (temperature: Temperature, scale: Scale): number => roundHalfUp(toScale(temperature, scale).degrees, 10)

function ruleOf(reading: HeatReading): WbgtRule {
  if (isEstimate(reading)) return 'estimated'
  if (reading.method === 'instrument') return 'asShown'
  return reading.sun ? 'inSun' : 'withoutSun'
}
