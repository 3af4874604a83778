// Where an instrument is missing: what may be computed instead. Each may raise a hold and none lifts one. They use
// functions whose last bit differs between engines, so an estimate is computed once, by whoever hears the observation,
// and kept with it; nothing computes it again.

/** An estimated temperature, and whether its source covers these inputs. */
export interface Estimate {
  readonly degC: number
  /** Inputs that lie outside what the source covers; the number is then shown as doubtful. */
  readonly outside: readonly string[]
}

/**
 * Psychrometric wet bulb at sea level from dry bulb and humidity. Error -1.0 to +0.65 °C within 5 to 99 % and -20 to
 * 50 °C, but not where it is cold and dry at once.
 *
 * Source: Stull 2011, J Appl Meteor Climatol 50:2267. Arctangents in radians.
 */
export function stullWetBulb({
  dryBulbDegC: dry,
  relativeHumidityPercent: humidity,
}: {
  dryBulbDegC: number
  relativeHumidityPercent: number
}): Estimate {
  const degC =
    dry * Math.atan(0.151977 * Math.sqrt(humidity + 8.313659)) +
    Math.atan(dry + humidity) -
    Math.atan(humidity - 1.676331) +
    0.00391838 * humidity ** 1.5 * Math.atan(0.023101 * humidity) -
    4.686035
  return {
    degC,
    outside: [...(humidity < 5 || humidity > 99 ? ['relativeHumidity'] : []), ...(dry < -20 || dry > 50 ? ['dryBulb'] : [])],
  }
}

/**
 * Natural wet bulb from a psychrometric one, for indoor work. +0.5 ± 3.0 °C in a smelter. It jumps where the globe
 * stands 4 °C above the dry bulb, and the jump is the source's own.
 *
 * Source: Bernard and Pourmoghani 1999.
 */
export function bernardNaturalWetBulb(air: {
  dryBulbDegC: number
  psychrometricWetBulbDegC: number
  globeDegC: number
  windMPerS: number
}): Estimate {
  const { dryBulbDegC: dry, psychrometricWetBulbDegC: wet, globeDegC: globe, windMPerS: wind } = air
  const radiant = globe - dry
  const degC = radiant < 4 ? dry - coolingShare(wind) * (dry - wet) : wet + 0.25 * radiant + radiantGain(wind)
  return { degC, outside: [...(wet > dry ? ['psychrometricWetBulb'] : []), ...(wind < 0 ? ['wind'] : [])] }
}

function coolingShare(wind: number): number {
  if (wind < 0.03) return 0.85
  return wind > 3 ? 1 : 0.96 + 0.069 * Math.log10(wind)
}

function radiantGain(wind: number): number {
  if (wind < 0.1) return 1.1
  return wind > 1 ? -0.1 : 0.1 * wind ** -1.1 - 0.2
}

/**
 * WBGT from dry bulb and humidity alone, for screening only: it assumes fairly strong sun and light wind, and reads
 * high in cloud, wind and at night. A 2023 study found it inadequate.
 *
 * Source: simplified WBGT of the Australian Bureau of Meteorology's thermal-stress page.
 */
export function simplifiedWbgt({
  dryBulbDegC: dry,
  relativeHumidityPercent: humidity,
}: {
  dryBulbDegC: number
  relativeHumidityPercent: number
}): Estimate {
  const vapourHPa = (humidity / 100) * 6.105 * Math.exp((17.27 * dry) / (237.7 + dry))
  return { degC: 0.567 * dry + 0.393 * vapourHPa + 3.94, outside: humidity < 0 || humidity > 100 ? ['relativeHumidity'] : [] }
}

/**
 * WBGT from the heat index, for screening only: ±2 °C where it is low, ±0.5 above 100 °F. Its authors advise against
 * putting it in the place of a WBGT.
 *
 * Source: Bernard and Iheanacho 2015.
 */
export function wbgtFromHeatIndex(heatIndexDegF: number): Estimate {
  return { degC: -0.0034 * heatIndexDegF ** 2 + 0.96 * heatIndexDegF - 34, outside: heatIndexDegF < 80 ? ['heatIndex'] : [] }
}
