import { compare, type Exact, exact, minus, plus, times } from './exact.ts'
import type { Measured } from '@musterbook/vocabulary/measured'
import { type HeatReading, isEstimate } from './reading.ts'
import { differenceToScale, type Temperature, temperatureOf, toScale } from './temperature.ts'
import { exactWbgtOf } from './wbgt.ts'

/** Why a reading cannot lift a hold or count as fresh. It is kept and shown all the same. */
export type Impossible =
  | 'valueMissing'
  | 'dryBulbOutsideSensor'
  | 'wetBulbOutsideSensor'
  | 'globeOutsideSensor'
  | 'wbgtOutsideSensor'
  | 'psychrometricWetBulbAboveDryBulb'
  | 'humidityOutsideRange'
  | 'dewPointAboveDryBulb'

/** What a second look, or a second reading, must answer before it counts. */
export type Doubt =
  | 'looksLikeTheOtherUnit'
  | 'wetBulbAboveDryBulb'
  | 'wickLooksDry'
  | 'drierThanAirGets'
  | 'globeBelowDryBulb'
  | 'globeNearDryBulbInSun'
  | 'globeFarAboveDryBulbWithoutSun'
  | 'globeVeryFarAboveDryBulb'
  | 'jumpedSinceLastReading'
  | 'notSettled'

/** What is said beside it and asks nothing. */
export type Remark = 'globeIsNot150mm' | 'psychrometricInSunIsAnEstimate'

export interface CheckedReading {
  readonly outcome: 'usable' | 'confirm' | 'unusable'
  readonly impossible: readonly Impossible[]
  readonly doubts: readonly Doubt[]
  readonly remarks: readonly Remark[]
}

/** What else is known about the place and the air when a reading is looked at; all of it may be absent. */
export interface Surroundings {
  /** The reading before it, at the same place with the same instrument. */
  readonly previous?: HeatReading | undefined
  /** A wet bulb on the dry bulb is no surprise then. */
  readonly rainOrFog?: boolean | undefined
  readonly relativeHumidityPercent?: number | undefined
  readonly dewPoint?: Measured | undefined
  /** When the instrument was last moved or switched on, epoch milliseconds. */
  readonly undisturbedSince?: number | undefined
}

/**
 * Looks at a reading as a careful person would. Nothing is dropped, clipped or converted: the outcome says whether it
 * counts at once (`usable`), after a second look (`confirm`) or not at all (`unusable`), and names each reason.
 *
 * Ranges of the sensors and settling times: OSHA Technical Manual III:4, JAT 56:362. The wet-bulb line at 5 % humidity
 * and the globe at night: psychrometrics and the Liljegren model. The sizes of a jump are proposed, not published.
 */
export function checkReading(reading: HeatReading, surroundings: Surroundings = {}): CheckedReading {
  const impossible = impossibleIn(reading, surroundings)
  const doubts = impossible.includes('valueMissing') ? [] : doubtsAbout(reading, surroundings)
  const outcome = impossible.length > 0 ? 'unusable' : doubts.length > 0 ? 'confirm' : 'usable'
  return { outcome, impossible, doubts, remarks: remarksOn(reading) }
}

/** Degrees Celsius, exactly. */
const celsius = (tenths: number): Exact => exact(tenths, 10)
const sensor = { from: celsius(-50), to: celsius(500), globeTo: celsius(1000), wbgtTo: celsius(600) }
/** What two good sensors may disagree by. */
const sensorNoise = celsius(2)

function impossibleIn(reading: HeatReading, { relativeHumidityPercent, dewPoint }: Surroundings): Impossible[] {
  const { dry, wet, globe, shown } = celsiusOf(reading)
  const outside = (value: Exact | undefined, to: Exact) => value && (compare(value, sensor.from) < 0 || compare(value, to) > 0)
  const reasons: [Impossible, boolean | undefined][] = [
    ['valueMissing', exactWbgtOf(reading) === undefined],
    ['dryBulbOutsideSensor', outside(dry, sensor.to)],
    ['wetBulbOutsideSensor', outside(wet, sensor.to)],
    ['globeOutsideSensor', outside(globe, sensor.globeTo)],
    ['wbgtOutsideSensor', outside(shown, sensor.wbgtTo)],
    ['psychrometricWetBulbAboveDryBulb', reading.wetBulbKind === 'psychrometric' && wet && dry && compare(wet, plus(dry, sensorNoise)) > 0],
    ['humidityOutsideRange', relativeHumidityPercent !== undefined && !(relativeHumidityPercent >= 0 && relativeHumidityPercent <= 100)],
    ['dewPointAboveDryBulb', dewPoint && dry && compare(inCelsius(temperatureOf(dewPoint)), dry) > 0],
  ]
  return reasons.filter(([, holds]) => holds).map(([reason]) => reason)
}

function doubtsAbout(reading: HeatReading, surroundings: Surroundings): Doubt[] {
  const { dry, wet, globe } = celsiusOf(reading)
  const { sun } = reading
  const aspirated = reading.wetBulbKind === 'psychrometric'
  const globeAbove = globe && dry && minus(globe, dry)
  const wetAbove = wet && dry && minus(wet, dry)
  const reasons: [Doubt, boolean | undefined][] = [
    ['looksLikeTheOtherUnit', looksLikeTheOtherUnit(reading)],
    ['wetBulbAboveDryBulb', wetAbove && !aspirated && compare(wetAbove, celsius(0)) > 0],
    ['wickLooksDry', wetAbove && sun && !surroundings.rainOrFog && within(wetAbove, celsius(3))],
    ['drierThanAirGets', wet && dry && compare(wet, driestWetBulb(dry)) < 0],
    ['globeBelowDryBulb', globeAbove && compare(globeAbove, celsius(sun ? 0 : -20)) < 0],
    ['globeNearDryBulbInSun', globeAbove && sun && within(globeAbove, celsius(10))],
    ['globeFarAboveDryBulbWithoutSun', globeAbove && !sun && compare(globeAbove, celsius(50)) >= 0],
    ['globeVeryFarAboveDryBulb', globeAbove && compare(globeAbove, celsius(300)) > 0],
    ['jumpedSinceLastReading', surroundings.previous && jumped(reading, surroundings.previous)],
    ['notSettled', !reading.settled || disturbed(reading, surroundings.undisturbedSince)],
  ]
  return reasons.filter(([, holds]) => holds).map(([reason]) => reason)
}

function remarksOn(reading: HeatReading): Remark[] {
  return [
    ...(reading.globeDiameterMm !== 150 ? (['globeIsNot150mm'] as const) : []),
    ...(reading.method !== 'estimate' && isEstimate(reading) ? (['psychrometricInSunIsAnEstimate'] as const) : []),
  ]
}

/**
 * 31 entered as Fahrenheit: each bulb is below 50 °F, so colder than anybody measures heat in, and would make a warm day
 * in Celsius. The other way round, 82 entered as Celsius, is outside the sensors.
 */
function looksLikeTheOtherUnit({ values }: HeatReading): boolean {
  const misread = (value: Measured | null | undefined, hottest: number) => {
    if (!value) return undefined
    const { degrees, scale } = temperatureOf(value)
    return scale === 'degF' && compare(degrees, exact(15)) >= 0 && compare(degrees, exact(hottest)) <= 0
  }
  const bulbs = [misread(values.naturalWetBulb, 37), misread(values.dryBulb, 49), misread(values.wbgt, 40)]
  return bulbs.includes(true) && !bulbs.includes(false)
}

const within = (difference: Exact, limit: Exact) =>
  compare(difference, limit) <= 0 && compare(difference, { top: -limit.top, bottom: limit.bottom }) >= 0

/**
 * The wet bulb of air at 5 % humidity and sea level, tenths of a degree Celsius at whole tens and fives of the dry bulb,
 * ASHRAE Fundamentals 2017 equations; straight lines between. Kept as integers, so that no engine decides a doubt.
 */
const driest: readonly (readonly [dryTenths: number, wetTenths: number])[] = [
  [0, -59],
  [50, -27],
  [100, 9],
  [150, 39],
  [200, 67],
  [250, 94],
  [300, 119],
  [350, 143],
  [400, 166],
  [450, 189],
  [500, 211],
]

function driestWetBulb(dry: Exact): Exact {
  const after = driest.findIndex(([tenths]) => compare(dry, celsius(tenths)) <= 0)
  const upper = after < 0 ? driest.length - 1 : Math.max(after, 1)
  const [fromDry, fromWet] = driest[upper - 1] ?? [0, 0]
  const [toDry, toWet] = driest[upper] ?? [1, 1]
  const slope = exact(toWet - fromWet, toDry - fromDry)
  return plus(celsius(fromWet), times(slope, minus(dry, celsius(fromDry))))
}

const halfAnHourMs = 30 * 60_000

/** More than 3 °C (5 °F) of WBGT, 4 °C of dry bulb or 15 °C of globe within half an hour, either way. */
function jumped(reading: HeatReading, previous: HeatReading): boolean {
  if (previous.place !== reading.place || previous.instrumentId !== reading.instrumentId) return false
  if (Math.abs(reading.occurredAt - previous.occurredAt) > halfAnHourMs) return false
  const [now, before] = [celsiusOf(reading), celsiusOf(previous)]
  const moved = (one: Exact | undefined, other: Exact | undefined, limit: Exact) => one && other && !within(minus(one, other), limit)
  const wbgtLimit = exactWbgtOf(reading)?.scale === 'degF' ? differenceToScale(exact(5), 'degF', 'degC') : exact(3)
  return Boolean(
    moved(wbgtCelsius(reading), wbgtCelsius(previous), wbgtLimit) ||
    moved(now.dry, before.dry, exact(4)) ||
    moved(now.globe, before.globe, exact(15)),
  )
}

/** How long after it was set up an instrument counts as settled. */
export const settlingMs = { globe: 25 * 60_000, other: 15 * 60_000 }

function disturbed(reading: HeatReading, undisturbedSince: number | undefined): boolean {
  if (undisturbedSince === undefined) return false
  // An instrument that shows WBGT has a globe as well, whether it tells its temperature or not.
  const needs = reading.method === 'components' && !reading.values.globe ? settlingMs.other : settlingMs.globe
  return reading.occurredAt - undisturbedSince < needs
}

const inCelsius = (temperature: Temperature): Exact => toScale(temperature, 'degC').degrees

function wbgtCelsius(reading: HeatReading): Exact | undefined {
  const wbgt = exactWbgtOf(reading)
  return wbgt && inCelsius(wbgt)
}

function celsiusOf({ values, method }: HeatReading) {
  const read = (value: Measured | null | undefined) => (value ? inCelsius(temperatureOf(value)) : undefined)
  return {
    dry: read(values.dryBulb),
    wet: read(values.naturalWetBulb),
    globe: read(values.globe),
    shown: method === 'components' ? undefined : read(values.wbgt),
  }
}
