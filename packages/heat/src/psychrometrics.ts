import psychrolib from 'psychrolib'

// The one place that knows psychrolib. Its unit system is global and may be changed by anybody, its humidity is 0 to 1,
// and it throws on a wet bulb above the dry bulb: none of that leaves this file.

/** Sea-level pressure of the standard atmosphere, Pa. */
export const standardPressurePa = 101_325

/**
 * The psychrometric (aspirated) wet bulb of air. Not the natural one: in sun that one reads up to 5 °C higher.
 *
 * Source: ASHRAE Fundamentals 2017, chapter 1. Throws outside 0 to 100 % or what the equations cover.
 */
export function wetBulbDegC(air: { dryBulbDegC: number; relativeHumidityPercent: number; pressurePa?: number }): number {
  return inSI().GetTWetBulbFromRelHum(air.dryBulbDegC, share(air.relativeHumidityPercent), air.pressurePa ?? standardPressurePa)
}

/**
 * The humidity of air from its psychrometric wet bulb. A natural wet bulb overstates it. Throws when the wet bulb is
 * above the dry bulb.
 */
export function relativeHumidityPercent(air: { dryBulbDegC: number; psychrometricWetBulbDegC: number; pressurePa?: number }): number {
  return 100 * inSI().GetRelHumFromTWetBulb(air.dryBulbDegC, air.psychrometricWetBulbDegC, air.pressurePa ?? standardPressurePa)
}

/** The temperature at which this air would be saturated. */
export function dewPointDegC(air: { dryBulbDegC: number; relativeHumidityPercent: number }): number {
  return inSI().GetTDewPointFromRelHum(air.dryBulbDegC, share(air.relativeHumidityPercent))
}

/** Vapour pressure of saturated air, over ice below the triple point, Pa. */
export const saturationVapourPressurePa = (temperatureDegC: number): number => inSI().GetSatVapPres(temperatureDegC)

function inSI() {
  psychrolib.SetUnitSystem(psychrolib.SI)
  return psychrolib
}

function share(percent: number): number {
  if (!(percent >= 0 && percent <= 100)) throw new RangeError(`humidity outside 0 to 100 %: ${percent}`)
  return percent / 100
}
