import { type Sun, sunOver } from './sun.ts'

// Liljegren et al. 2008, J Occup Environ Hyg 5:645: the heat balance of a globe and of a wet wick in weather. Written from
// the published equations. Better than 1 °C against depot measurements; the best there is without instruments, and still
// an estimate: it may raise a hold and never lifts one, and it is computed once and kept.

export interface Weather {
  readonly dryBulbDegC: number
  readonly relativeHumidityPercent: number
  readonly pressureHPa: number
  /** Wind at 2 m. */
  readonly windMPerS: number
  /** Global irradiance on the level, W/m². */
  readonly solarWPerM2: number
}

export interface WeatherInSun extends Weather {
  /** What of the irradiance comes straight from the sun, 0 to 1. */
  readonly directShare: number
  readonly cosZenith: number
  /** The published model is of a 50.8 mm globe; 150 mm gives 1.0 to 1.5 °C more WBGT in strong sun. */
  readonly globeDiameterM: number
}

export interface LiljegrenEstimate {
  readonly wbgtDegC: number
  readonly globeDegC: number
  readonly naturalWetBulbDegC: number
}

/** The globe, the natural wet bulb and the WBGT of this weather, or nothing when the balance does not settle. */
export function liljegren(weather: WeatherInSun): LiljegrenEstimate | undefined {
  const globe = globeK(weather)
  const wet = naturalWetBulbK(weather)
  if (globe === undefined || wet === undefined) return undefined
  const [globeDegC, naturalWetBulbDegC] = [globe - zeroCelsiusK, wet - zeroCelsiusK]
  return { globeDegC, naturalWetBulbDegC, wbgtDegC: 0.7 * naturalWetBulbDegC + 0.2 * globeDegC + 0.1 * weather.dryBulbDegC }
}

export interface Station {
  readonly latitudeDegNorth: number
  readonly longitudeDegEast: number
  /** The end of the time that the values are means of. */
  readonly epochMs: number
  readonly averagingMinutes: number
  readonly globeDiameterM: number
}

/** The same from what a weather station tells: where and when decide the sun, and the sun the direct share. */
export function liljegrenAtStation(weather: Weather, station: Station): LiljegrenEstimate | undefined {
  const sun = sunOver(station, station.epochMs - (station.averagingMinutes * 60_000) / 2)
  const { directShare, solarWPerM2 } = directOf(weather.solarWPerM2, sun)
  return liljegren({ ...weather, solarWPerM2, directShare, cosZenith: sun.cosZenith, globeDiameterM: station.globeDiameterM })
}

/** No direct share is told while the sun is lower than half a degree. */
const lowestCosZenith = 0.00873
const solarConstantWPerM2 = 1367

/** A meter that shows more than the sky lets through is taken to show that much. */
function directOf(solarWPerM2: number, sun: Sun): { directShare: number; solarWPerM2: number } {
  if (sun.cosZenith < lowestCosZenith) return { directShare: 0, solarWPerM2 }
  const aboveAir = (solarConstantWPerM2 * sun.cosZenith) / sun.distance ** 2
  const clearness = Math.min(solarWPerM2 / aboveAir, 0.85)
  if (clearness <= 0) return { directShare: 0, solarWPerM2: 0 }
  const directShare = Math.min(Math.max(Math.exp(3 - 1.34 * clearness - 1.65 / clearness), 0), 0.9)
  return { directShare, solarWPerM2: clearness * aboveAir }
}

const zeroCelsiusK = 273.15
const stefanBoltzmann = 5.6696e-8
const airMolarMass = 28.97
const waterMolarMass = 18.015
const gasConstant = 8314.34 / airMolarMass
const heatCapacity = 1003.5
const prandtl = heatCapacity / (heatCapacity + 1.25 * gasConstant)
const slowestWindMPerS = 0.13
const ground = { emissivity: 0.999, albedo: 0.45 }
const globe = { emissivity: 0.95, albedo: 0.05 }
const wick = { emissivity: 0.95, albedo: 0.4, diameterM: 0.007, lengthM: 0.0254 }

function globeK(weather: WeatherInSun): number | undefined {
  const airK = weather.dryBulbDegC + zeroCelsiusK
  const { directShare: direct, cosZenith, solarWPerM2: sun, globeDiameterM: diameter } = weather
  const slant = direct > 0 ? direct * (1 / (2 * cosZenith) - 1) : 0
  const fromSky = 0.5 * (skyEmissivity(weather) + ground.emissivity) * airK ** 4
  const fromSun = ((sun * (1 - globe.albedo)) / (2 * globe.emissivity * stefanBoltzmann)) * (slant + 1 + ground.albedo)
  return settle(airK, (globeTemperature) => {
    const film = airAt((globeTemperature + airK) / 2, weather)
    const convection = (film.conductivity / diameter) * (2 + 0.6 * Math.sqrt(reynolds(film, weather, diameter)) * prandtl ** 0.3333)
    return (fromSky - (convection * (globeTemperature - airK)) / (globe.emissivity * stefanBoltzmann) + fromSun) ** 0.25
  })
}

function naturalWetBulbK(weather: WeatherInSun): number | undefined {
  const airK = weather.dryBulbDegC + zeroCelsiusK
  const { directShare: direct, cosZenith, solarWPerM2: sun, pressureHPa: pressure } = weather
  const vapour = vapourHPa(weather)
  const end = wick.diameterM / (4 * wick.lengthM)
  const slant = direct > 0 ? direct * (Math.sqrt(1 - cosZenith ** 2) / cosZenith / Math.PI + end) : 0
  const fromSky = 0.5 * (skyEmissivity(weather) + ground.emissivity) * airK ** 4
  const fromSun = (1 - wick.albedo) * sun * ((1 - direct) * (1 + end) + slant + ground.albedo)
  return settle(airK - 5, (wickTemperature) => {
    const film = airAt((wickTemperature + airK) / 2, weather)
    const convection = ((0.281 * film.conductivity) / wick.diameterM) * reynolds(film, weather, wick.diameterM) ** 0.6 * prandtl ** 0.44
    const schmidt = film.viscosity / (film.density * film.diffusivity)
    const radiation = wick.emissivity * stefanBoltzmann * (fromSky - wickTemperature ** 4) + fromSun
    const saturated = saturatedHPa(wickTemperature)
    const evaporation =
      (((film.latentHeat * waterMolarMass) / (heatCapacity * airMolarMass)) * (saturated - vapour) * (prandtl / schmidt) ** 0.56) /
      (pressure - saturated)
    return airK - evaporation + radiation / convection
  })
}

/**
 * Follows a balance with damping until it moves less than 0.0001 K, or gives up. The published damping swings in very hot,
 * damp air, where a heavier one still settles.
 */
function settle(start: number, next: (temperature: number) => number): number | undefined {
  for (const damping of [0.1, 0.02]) {
    const settled = settleDamped(start, next, damping)
    if (settled !== undefined) return settled
  }
  return undefined
}

function settleDamped(start: number, next: (temperature: number) => number, damping: number): number | undefined {
  let temperature = start
  for (let step = 0; step < 3_000; step++) {
    const wanted = next(temperature)
    if (!Number.isFinite(wanted)) return undefined
    if (Math.abs(wanted - temperature) < 1e-4) return wanted
    temperature += damping * (wanted - temperature)
  }
  return undefined
}

/** What air is like at a temperature: SI units. */
function airAt(temperatureK: number, { pressureHPa }: Weather) {
  const collisions = 1.048 - (0.034 * (temperatureK / 97 - 2.9)) / 0.4
  const viscosity = (2.6693e-6 * Math.sqrt(airMolarMass * temperatureK)) / (3.617 ** 2 * collisions)
  const critical = 132 * 647.3
  const diffusivity =
    3.64e-4 *
    (temperatureK / Math.sqrt(critical)) ** 2.334 *
    (36.4 * 218) ** (1 / 3) *
    critical ** (5 / 12) *
    Math.sqrt(1 / airMolarMass + 1 / waterMolarMass) *
    (1013.25 / pressureHPa) *
    1e-4
  return {
    viscosity,
    diffusivity,
    conductivity: (heatCapacity + 1.25 * gasConstant) * viscosity,
    density: (100 * pressureHPa) / (gasConstant * temperatureK),
    latentHeat: 2.4073e6 - (71_100 * (313.15 - temperatureK)) / 30,
  }
}

const reynolds = (film: { density: number; viscosity: number }, { windMPerS }: Weather, diameterM: number) =>
  (Math.max(windMPerS, slowestWindMPerS) * film.density * diameterM) / film.viscosity

const saturatedHPa = (temperatureK: number) => 1.004 * 6.1121 * Math.exp((17.502 * (temperatureK - zeroCelsiusK)) / (temperatureK - 32.18))

const vapourHPa = ({ relativeHumidityPercent, dryBulbDegC }: Weather) =>
  (relativeHumidityPercent / 100) * saturatedHPa(dryBulbDegC + zeroCelsiusK)

const skyEmissivity = (weather: Weather) => 0.575 * vapourHPa(weather) ** 0.143
