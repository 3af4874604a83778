import { mostExposurePercent } from '@musterbook/heat/acclimatisation'
import { airCategory } from '@musterbook/heat/air'
import { classify, stops } from '@musterbook/heat/classify'
import { raisedBy } from '@musterbook/heat/clothing'
import { bernardNaturalWetBulb, simplifiedWbgt, stullWetBulb } from '@musterbook/heat/estimates'
import { asNumber, type Exact, exact, exactDecimal, roundHalfUp, times } from '@musterbook/heat/exact'
import { globe150mmDegC, meanRadiantDegC } from '@musterbook/heat/globe'
import { heatIndexDegF, heatIndexTableDegF } from '@musterbook/heat/heat-index'
import { earliestResume } from '@musterbook/heat/lightning'
import { liljegren, liljegrenAtStation, type LiljegrenEstimate } from '@musterbook/heat/liljegren'
import { nioshRalDegC, nioshRelDegC, timeWeighted } from '@musterbook/heat/occupational'
import { demoPolicy, type HeatTable } from '@musterbook/heat/policies'
import { dewPointDegC, relativeHumidityPercent, saturationVapourPressurePa, wetBulbDegC } from '@musterbook/heat/psychrometrics'
import { publishedTables } from '@musterbook/heat/published-tables'
import type { HeatReading } from '@musterbook/heat/reading'
import { checkReading, type Impossible } from '@musterbook/heat/reading-checks'
import { restrictionInForce } from '@musterbook/heat/session-restriction'
import { differenceToScale, type Scale, type Temperature, toScale } from '@musterbook/heat/temperature'
import { tenthsOf, wbgtInSun, wbgtWithoutSun } from '@musterbook/heat/wbgt'
import { windChillDegC, windChillDegF } from '@musterbook/heat/wind-chill'
import { litresPerQuart, mostFluidQuarts, paceOf, type Work } from '@musterbook/heat/work-rest'
import type { Measured } from '@musterbook/vocabulary/measured'
import type { Check, Quantities } from './check.ts'

type Inputs = Record<string, unknown>

/** The quantities of the heat checks, each computed with the public functions of packages/heat. */
export const quantities: Quantities = {
  wbgt_outdoor: (inputs, check) => inUnit(outdoor(inputs), check),
  wbgt_indoor: (inputs, check) => inUnit(indoor(inputs), check),
  wbgt_outdoor_then_category: (inputs) => bandOf(outdoor(inputs), inputs),
  wbgt_indoor_then_category: (inputs) => bandOf(indoor(inputs), inputs),

  temperature_conversion: (inputs) => {
    const to = scaleOf(text(inputs, 'to'))
    return { value: asNumber(toScale(temperature(inputs, 'temperature'), to).degrees), unit: to }
  },
  temperature_difference_conversion: (inputs) => {
    const [difference, to] = [temperature(inputs, 'difference'), scaleOf(text(inputs, 'to'))]
    return { value: asNumber(differenceToScale(difference.degrees, difference.scale, to)), unit: to }
  },

  heat_category: (inputs) => bandOf(temperature(inputs, 'wbgt'), inputs),
  flag: (inputs) => flagOf(temperature(inputs, 'wbgt'), inputs),
  acsm_training_band: (inputs) => bandOf(temperature(inputs, 'wbgt'), inputs),
  ghsa_band: (inputs) => bandOf(temperature(inputs, 'wbgt'), inputs),
  fhsaa_band: (inputs) => bandOf(temperature(inputs, 'wbgt'), inputs),
  race_flag: (inputs) => flagOf(temperature(inputs, 'wbgt'), inputs),
  'round_half_up_to_0.1_then_category': (inputs) => bandOf(temperature(inputs, 'wbgt'), inputs),
  convert_then_round_once: (inputs) => bandOf(temperature(inputs, 'wbgt'), inputs),
  adjusted_wbgt_category: (inputs) => bandOf(dressed(inputs, 'clothing_addition'), inputs),
  effective_wbgt: (inputs, check) => inUnit(dressed(inputs, 'clothing_adjustment'), check),
  acsm_cancel_training: (inputs) => {
    const acclimatised = given(inputs, 'acclimatised_fit_low_risk').value === true
    return stops(classify(temperature(inputs, 'wbgt'), tableOf(inputs)).band, acclimatised ? 'acclimatised' : 'unacclimatised')
  },
  ghsa_restriction_in_force: (inputs) => {
    const table = tableOf(inputs)
    const readings = (inputs['readings'] as Inputs[]).map((one) => ({
      atMs: milliseconds(one, 'minute'),
      tenths: tenthsOf(temperature(one, 'wbgt'), table.unit),
    }))
    return restrictionInForce(readings, table, milliseconds(inputs, 'at_minute'))?.id ?? null
  },

  work_rest_minutes: (inputs) => {
    const pace = paceFor(inputs)
    if (!pace) return null
    return pace.workRest ? `${pace.workRest.workMinutes}/${pace.workRest.restMinutes}` : 'no limit'
  },
  water_intake: (inputs, check) => {
    const pace = paceFor(inputs)
    return pace ? fluid(pace.waterQuarterQuartsPerHour / 4, check) : null
  },
  max_fluid_per_hour: (_, check) => fluid(mostFluidQuarts.perHour, check),
  max_fluid_per_day: (_, check) => fluid(mostFluidQuarts.perDay, check),
  max_exposure_percent_of_usual: (inputs) => ({
    value: mostExposurePercent(text(inputs, 'worker') === 'new' ? 'new' : 'returning', number(inputs, 'day', { day: 1 })),
    unit: 'percent',
  }),

  niosh_rel_acclimatised: (inputs, check) => ofDegC(nioshRelDegC(number(inputs, 'metabolic_rate', watts)), check),
  niosh_ral_unacclimatised: (inputs, check) => ofDegC(nioshRalDegC(number(inputs, 'metabolic_rate', watts)), check),
  wbgt_time_weighted_average: (inputs, check) => {
    const parts = (inputs['segments'] as Inputs[]).map((one) => ({
      wbgt: temperature(one, 'wbgt'),
      duration: times(decimal(one, 'duration'), exact(minutes[given(one, 'duration').unit] ?? NaN)),
    }))
    return inUnit(timeWeighted(parts), check)
  },

  wet_bulb_stull2011: (inputs, check) => ofDegC(stullWetBulb(air(inputs)).degC, check),
  wet_bulb_psychrometric: (inputs, check) => ofDegC(wetBulbDegC({ ...air(inputs), ...pressure(inputs) }), check),
  relative_humidity_from_psychrometric_wet_bulb: (inputs, check) => {
    const wet = { dryBulbDegC: degC(inputs, 'dry_bulb'), psychrometricWetBulbDegC: degC(inputs, 'psychrometric_wet_bulb') }
    const percent = relativeHumidityPercent({ ...wet, ...pressure(inputs) })
    return { value: unitOf(check) === '1' ? percent / 100 : percent, unit: unitOf(check) }
  },
  dew_point: (inputs, check) => ofDegC(dewPointDegC(air(inputs)), check),
  saturation_vapour_pressure: (inputs, check) => ({
    value: saturationVapourPressurePa(degC(inputs, 'temperature')) / (pascals[unitOf(check)] ?? NaN),
    unit: unitOf(check),
  }),
  wbgt_simplified_bom: (inputs, check) => ofDegC(simplifiedWbgt(air(inputs)).degC, check),
  natural_wet_bulb_bernard: (inputs, check) => {
    const { degC: natural } = bernardNaturalWetBulb({
      dryBulbDegC: degC(inputs, 'dry_bulb'),
      psychrometricWetBulbDegC: degC(inputs, 'psychrometric_wet_bulb'),
      globeDegC: degC(inputs, 'globe'),
      windMPerS: number(inputs, 'wind', metresPerSecond),
    })
    return ofDegC(natural, check)
  },

  liljegren_wbgt: (inputs, check) => ofDegC(modelled(inputs)?.wbgtDegC, check),
  liljegren_globe: (inputs, check) => ofDegC(modelled(inputs)?.globeDegC, check),
  liljegren_natural_wet_bulb: (inputs, check) => ofDegC(modelled(inputs)?.naturalWetBulbDegC, check),
  liljegren_wbgt_from_station_data: (inputs, check) => ofDegC(atStation(inputs)?.wbgtDegC, check),

  mean_radiant_temperature_iso7726: (inputs, check) => ofDegC(meanRadiantDegC(globe(inputs)), check),
  globe_150mm_equivalent: (inputs, check) => ofDegC(globe150mmDegC(globe(inputs)), check),

  heat_index_table: (inputs, check) => ofDegF(heatIndexTableDegF(degF(inputs, 'dry_bulb'), humidity(inputs)), check),
  heat_index_full_equation: (inputs, check) => ofDegF(heatIndexDegF(degF(inputs, 'dry_bulb'), humidity(inputs)), check),
  wind_chill_table: (inputs, check) => ofDegF(windChillDegF(degF(inputs, 'air_temperature'), number(inputs, 'wind', milesPerHour)), check),
  wind_chill_metric: (inputs, check) =>
    ofDegC(windChillDegC(degC(inputs, 'air_temperature'), number(inputs, 'wind_10m', kmPerHour)), check),

  physically_possible: (inputs) => !impossible(inputs),
  lightning_earliest_resume: (inputs) => {
    const observed = given(inputs, 'strikes_or_thunder').value as string[]
    const resume = earliestResume(unwrapped(observed), number(inputs, 'wait', minutes))
    return resume === undefined ? null : clock(resume)
  },
  aqi_category: (inputs) => airCategory(number(inputs, 'aqi', { AQI: 1 })),
}

// Reading what a check gives.

function given(inputs: Inputs, name: string): { value: unknown; unit: string } {
  const input = inputs[name]
  if (typeof input !== 'object' || input === null || !('value' in input) || !('unit' in input)) throw new Error(`no input ${name}`)
  return { value: input.value, unit: String(input.unit) }
}

const text = (inputs: Inputs, name: string) => String(given(inputs, name).value)

/** A number of a check as it is written there, with no digit lost. */
const decimal = (inputs: Inputs, name: string): Exact => exactDecimal(text(inputs, name))

/** How much one of each unit is, in the unit that a function asks for. */
type Units = Readonly<Record<string, number>>
const minutes: Units = { min: 1, h: 60 }
const watts: Units = { W: 1, kW: 1000, 'kcal/h': 1.163 }
const pascals: Units = { Pa: 1, hPa: 100, mbar: 100, kPa: 1000 }
const metresPerSecond: Units = { 'm/s': 1, 'km/h': 1 / 3.6, mph: 0.44704 }
const kmPerHour: Units = { 'km/h': 1, 'm/s': 3.6, mph: 1.609344 }
const milesPerHour: Units = { mph: 1, 'km/h': 1 / 1.609344, 'm/s': 1 / 0.44704 }
const metres: Units = { m: 1, cm: 0.01, mm: 0.001, in: 0.0254 }
const share: Units = { '1': 1, percent: 0.01 }

function number(inputs: Inputs, name: string, units: Units): number {
  const { value, unit } = given(inputs, name)
  const one = Object.hasOwn(units, unit) ? units[unit] : undefined
  if (one === undefined) throw new Error(`${name}: unknown unit ${unit}`)
  if (typeof value !== 'number') throw new Error(`${name}: not a number`)
  return value * one
}

function scaleOf(unit: string): Scale {
  const [scale] = unit.split(' ')
  if (scale === 'degC' || scale === 'degF' || scale === 'K') return scale
  throw new Error(`not a scale of temperature: ${unit}`)
}

const temperature = (inputs: Inputs, name: string): Temperature => ({
  degrees: decimal(inputs, name),
  scale: scaleOf(given(inputs, name).unit),
})
const degC = (inputs: Inputs, name: string) => asNumber(toScale(temperature(inputs, name), 'degC').degrees)
const degF = (inputs: Inputs, name: string) => asNumber(toScale(temperature(inputs, name), 'degF').degrees)
const humidity = (inputs: Inputs) => 100 * number(inputs, 'relative_humidity', share)
const milliseconds = (inputs: Inputs, name: string) => 60_000 * number(inputs, name, minutes)
const air = (inputs: Inputs) => ({ dryBulbDegC: degC(inputs, 'dry_bulb'), relativeHumidityPercent: humidity(inputs) })
const pressure = (inputs: Inputs) => ('pressure' in inputs ? { pressurePa: number(inputs, 'pressure', pascals) } : {})

function tableOf(inputs: Inputs): HeatTable {
  const id = text(inputs, 'policy')
  const table = id === demoPolicy.id ? demoPolicy : publishedTables[id]
  if (!table) throw new Error(`unknown policy ${id}`)
  return table
}

const outdoor = (inputs: Inputs) =>
  wbgtInSun(temperature(inputs, 'natural_wet_bulb'), temperature(inputs, 'globe'), temperature(inputs, 'dry_bulb'))
const indoor = (inputs: Inputs) => wbgtWithoutSun(temperature(inputs, 'natural_wet_bulb'), temperature(inputs, 'globe'))
const bandOf = (wbgt: Temperature, inputs: Inputs) => classify(wbgt, tableOf(inputs)).band.id

/** The colour word; a table that flies none at all answers with its band. */
function flagOf(wbgt: Temperature, inputs: Inputs): string {
  const { flag, id } = classify(wbgt, tableOf(inputs)).band
  return flag ?? (tableOf(inputs).bands.some((band) => band.flag) ? 'no flag' : id)
}

function dressed(inputs: Inputs, name: string): Temperature {
  const addition = temperature(inputs, name)
  return raisedBy(temperature(inputs, 'wbgt'), addition.degrees, addition.scale)
}

function paceFor(inputs: Inputs) {
  const category = Number(/\d/.exec(text(inputs, 'category'))?.[0] ?? NaN)
  return text(inputs, 'policy') === 'tbmed507' ? paceOf(category, text(inputs, 'work') as Work) : undefined
}

const weather = (inputs: Inputs) => ({
  ...air(inputs),
  pressureHPa: number(inputs, 'pressure', pascals) / 100,
  windMPerS: number(inputs, 'wind_2m', metresPerSecond),
  solarWPerM2: number(inputs, 'solar_irradiance', { 'W/m2': 1 }),
})

const modelled = (inputs: Inputs): LiljegrenEstimate | undefined =>
  liljegren({
    ...weather(inputs),
    directShare: number(inputs, 'direct_beam_fraction', share),
    cosZenith: number(inputs, 'cos_solar_zenith', { '1': 1 }),
    globeDiameterM: number(inputs, 'globe_diameter', metres),
  })

const atStation = (inputs: Inputs): LiljegrenEstimate | undefined =>
  liljegrenAtStation(weather(inputs), {
    latitudeDegNorth: number(inputs, 'latitude', { 'deg north': 1, 'deg south': -1 }),
    longitudeDegEast: number(inputs, 'longitude', { 'deg east': 1, 'deg west': -1 }),
    epochMs: Date.parse(`${text(inputs, 'local_standard_time')}Z`) - 60_000 * number(inputs, 'utc_offset', minutes),
    averagingMinutes: number(inputs, 'averaging_time', minutes),
    globeDiameterM: number(inputs, 'globe_diameter', metres),
  })

const globe = (inputs: Inputs) => ({
  globeDegC: degC(inputs, 'globe'),
  dryBulbDegC: degC(inputs, 'dry_bulb'),
  airSpeedMPerS: number(inputs, 'air_speed', metresPerSecond),
  diameterM: number(inputs, 'globe_diameter', metres),
  emissivity: number(inputs, 'emissivity', { '1': 1 }),
})

/** Asked of the reading checks, of whatever the check gives; that the rest of the reading is missing does not count. */
function impossible(inputs: Inputs): boolean {
  const read = (name: string): Measured | undefined =>
    name in inputs
      ? {
          amount: roundHalfUp(toScale(temperature(inputs, name), 'degC').degrees, 100),
          unit: 'hundredthsDegC',
          resolution: 1,
          method: 'given',
        }
      : undefined
  const names = ['dry_bulb', 'psychrometric_wet_bulb', 'natural_wet_bulb', 'globe', 'dew_point']
  if (names.some((name) => name in inputs && degC(inputs, name) < -273.15)) return true
  const reading: HeatReading = {
    readingId: 'check',
    siteId: 'check',
    place: 'check',
    instrumentId: 'check',
    values: { naturalWetBulb: read('psychrometric_wet_bulb') ?? read('natural_wet_bulb'), globe: read('globe'), dryBulb: read('dry_bulb') },
    sun: true,
    wetBulbKind: 'psychrometric_wet_bulb' in inputs ? 'psychrometric' : 'natural',
    globeDiameterMm: 150,
    settled: true,
    method: 'components',
    occurredAt: 0,
  }
  const found = checkReading(reading, {
    dewPoint: read('dew_point'),
    relativeHumidityPercent: 'relative_humidity' in inputs ? humidity(inputs) : undefined,
  })
  const physical: Impossible[] = ['psychrometricWetBulbAboveDryBulb', 'humidityOutsideRange', 'dewPointAboveDryBulb']
  return found.impossible.some((reason) => physical.includes(reason))
}

/** Clock times as they were told, in order; one that falls far behind the one before it was told after midnight. */
function unwrapped(clocks: readonly string[]): number[] {
  const day = 24 * 60 * 60_000
  return clocks.reduce<number[]>((told, one) => {
    const [hours = NaN, mins = NaN] = one.split(':').map(Number)
    const before = told.at(-1) ?? 0
    const today = Math.floor(before / day) * day + (hours * 60 + mins) * 60_000
    return [...told, before - today > day / 2 ? today + day : today]
  }, [])
}

function clock(ms: number): string {
  const minute = (ms / 60_000) % (24 * 60)
  return [Math.floor(minute / 60), minute % 60].map((part) => String(part).padStart(2, '0')).join(':')
}

// Answering in the unit that a check expects.

const unitOf = ({ expected }: Check) => (expected as { unit: string }).unit

const inUnit = (temperature: Temperature, check: Check) => ({
  value: asNumber(toScale(temperature, scaleOf(unitOf(check))).degrees),
  unit: unitOf(check),
})

function ofDegC(value: number | undefined, check: Check) {
  if (value === undefined) return null
  return { value: { degC: value, degF: value * 1.8 + 32, K: value + 273.15 }[scaleOf(unitOf(check))], unit: unitOf(check) }
}

const ofDegF = (value: number | undefined, check: Check) => ofDegC(value === undefined ? undefined : (value - 32) / 1.8, check)

function fluid(quarts: number, check: Check) {
  const [unit = ''] = unitOf(check).split('/')
  const one = { L: litresPerQuart, mL: 1000 * litresPerQuart, 'US quart': 1, 'fl oz': 32 }[unit]
  if (one === undefined) throw new Error(`unknown unit ${unit}`)
  return { value: quarts * one, unit: unitOf(check) }
}
