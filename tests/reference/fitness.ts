import { ageOn } from '@musterbook/scoring/age'
import { bodyDensity, type DensityEquation, logDensity, turningPoint } from '@musterbook/scoring/body-density'
import { fatMass, leanMass, massAtPercentFat } from '@musterbook/scoring/body-mass'
import { medianRanks95, wilson95 } from '@musterbook/scoring/intervals'
import { lmsValueAt, lmsZ } from '@musterbook/scoring/lms'
import { expectedBestOf } from '@musterbook/scoring/normal'
import { percentileOf } from '@musterbook/scoring/norms'
import { brozek, siri } from '@musterbook/scoring/percent-fat'
import { harrellDavis, midrankPercentile, quantile } from '@musterbook/scoring/quantiles'
import {
  minimalDetectableChange,
  relativeTechnicalErrorPercent,
  reliableChangeIndex,
  standardError,
  technicalError,
  typicalError,
} from '@musterbook/scoring/reliability'
import { acsmRun, acsmRunMinutes, cooperTwelveMinutes, georgeJog, georgeRun } from '@musterbook/scoring/vo2max'
import { feetToMetres, inchesToCentimetres, kilogramsToPounds, milesToMetres, poundsToKilograms } from '@musterbook/stations/convert'
import { doubleTapIndex, missedCrossingIndex } from '@musterbook/stations/laps'
import { loadableDown } from '@musterbook/stations/next-load'
import { type Estimate, estimateNames, machineEquivalentLb, oneRepMax, reynoldsFromFive } from '@musterbook/stations/one-rep-max'
import {
  coefficientOfVariationPercent,
  evenLap,
  largestDepartureFromEvenPace,
  lastLapKick,
  secondMinusFirstHalf,
} from '@musterbook/stations/pacing'
import { roundRatio } from '@musterbook/stations/rounding'
import { pastSoles } from '@musterbook/stations/sit-and-reach'
import { needsThird, sitesOf } from '@musterbook/stations/skinfold'
import { shortTrackCorrection } from '@musterbook/stations/track-check'
import type { Quantities } from './check.ts'
import { normTableById } from './norm-tables.ts'

type Inputs = Record<string, unknown>

/** The quantities of the fitness checks, each computed with the public functions of packages/scoring and packages/stations. */
export const quantities: Quantities = {
  ...densities('jp3', 'jacksonPollock3'),
  ...densities('jp7', 'jacksonPollock7'),
  ...densities('durninWomersley', 'durninWomersley'),
  'percentFat.siri': (inputs) => siri(number(inputs, 'density_g_per_mL')),
  'percentFat.brozek': (inputs) => brozek(number(inputs, 'density_g_per_mL')),
  'skinfold.turningPointSumMm': (inputs) => turningPoint(number(inputs, 'b'), number(inputs, 'c')),
  'skinfold.needsThirdReading.tenPercent': (inputs) =>
    needsThird({ name: 'nsca' }, thousandths(inputs, 'r1_mm'), thousandths(inputs, 'r2_mm')),
  ...inEitherUnit('bodyComposition.leanMass', (inputs) => leanMass(number(inputs, 'weight_kg', 'weight_lb'), number(inputs, 'percentFat'))),
  ...inEitherUnit('bodyComposition.fatMass', (inputs) => fatMass(number(inputs, 'weight_kg', 'weight_lb'), number(inputs, 'percentFat'))),
  ...inEitherUnit('bodyWeight.atTargetPercentFat', (inputs) =>
    massAtPercentFat(number(inputs, 'weight_kg', 'weight_lb'), number(inputs, 'percentFat'), number(inputs, 'targetPercentFat')),
  ),

  'vo2max.acsm1.5mile': (inputs) => acsmRun(minutes(inputs)),
  'runTime.acsm1.5mile': (inputs) => 60 * acsmRunMinutes(number(inputs, 'vo2max')),
  'vo2max.cooper12min': (inputs) => cooperTwelveMinutes(number(inputs, 'distance_m')),
  'vo2max.george1.5mile': (inputs) => georgeRun(number(inputs, 'weight_kg'), minutes(inputs), sexOf(inputs)),
  'vo2max.george1mileJog': (inputs) => georgeJog(number(inputs, 'weight_kg'), minutes(inputs), sexOf(inputs), number(inputs, 'hr_bpm')),

  ...Object.fromEntries(estimateNames.map((name) => [`oneRepMax.${name}`, estimate(name)])),
  'oneRepMax.reynolds5rmChestPress': (inputs) => reynoldsFromFive(number(inputs, 'fiveRM_kg')),
  'benchPress.ratio': (inputs) => ofBodyWeight(inputs, 1),
  'benchPress.percentBodyWeight': (inputs) => ofBodyWeight(inputs, 100),
  'benchPress.loadableWeightDown': (inputs) => {
    const of = (name: string) => thousandths(inputs, `${name}_lb`, `${name}_kg`)
    return loadableDown(of('target'), of('bar'), 2 * of('smallestPlate')) / 1000
  },
  'benchPress.machineEquivalentMenLb': (inputs) => machineEquivalentLb(number(inputs, 'freeWeight_lb'), 'M'),
  'benchPress.machineEquivalentWomenLb': (inputs) => machineEquivalentLb(number(inputs, 'freeWeight_lb'), 'W'),

  'percentile.step': (inputs) => percentile(inputs, 'step'),
  'percentile.linear': (inputs) => percentile(inputs, 'linear'),
  'percentileRank.midrank': (inputs) =>
    midrankPercentile(numbers(inputs, 'values'), number(inputs, 'x'), inputs['betterIs'] === 'lower' ? 'lower' : 'higher'),
  'quantile.type7': (inputs) => quantile(numbers(inputs, 'values'), number(inputs, 'p')),
  'quantile.harrellDavis': (inputs) => harrellDavis(numbers(inputs, 'values'), number(inputs, 'p')),
  'interval.wilson95': (inputs) => wilson95(number(inputs, 'successes'), number(inputs, 'n')),
  'interval.medianOrderStatistics95': (inputs) => medianRanks95(number(inputs, 'n')),
  'lms.z': (inputs) => lmsZ(number(inputs, 'x'), lms(inputs)),
  'lms.valueAtCentile': (inputs) => lmsValueAt(number(inputs, 'centile'), lms(inputs)),

  'reliability.sem': (inputs) => standardError(number(inputs, 'sd'), number(inputs, 'icc')),
  'reliability.mdc95': (inputs) => minimalDetectableChange(standardError(number(inputs, 'sd'), number(inputs, 'icc'))),
  'reliability.mdc95FromSem': (inputs) =>
    minimalDetectableChange(number(inputs, ...Object.keys(inputs).filter((name) => /^sem/.test(name)))),
  'reliability.reliableChangeIndex': (inputs) =>
    reliableChangeIndex(number(inputs, 'entry'), number(inputs, 'exit'), number(inputs, 'sem')),
  'reliability.technicalError': (inputs) => technicalError(numbers(inputs, 'first_mm'), numbers(inputs, 'second_mm')),
  'reliability.relativeTechnicalErrorPercent': (inputs) =>
    relativeTechnicalErrorPercent(numbers(inputs, 'first_mm'), numbers(inputs, 'second_mm')),
  'reliability.typicalError': (inputs) => typicalError(numbers(inputs, 'differences')),
  'bestOf.expectedGainSd': (inputs) => expectedBestOf(number(inputs, 'n')),

  'laps.coefficientOfVariationPercent': (inputs) => coefficientOfVariationPercent(numbers(inputs, 'laps_s')),
  'laps.secondMinusFirstHalfS': (inputs) => secondMinusFirstHalf(numbers(inputs, 'laps_s')),
  'laps.largestDepartureFromEvenPaceS': (inputs) => largestDepartureFromEvenPace(numbers(inputs, 'laps_s')),
  'laps.lastLapKickS': (inputs) => lastLapKick(numbers(inputs, 'laps_s')),
  'laps.missedCrossingIndex': (inputs) => missedCrossingIndex(numbers(inputs, 'laps_s')),
  'laps.doubleTapIndex': (inputs) => doubleTapIndex(numbers(inputs, 'laps_s')),
  'laps.evenLapS': (inputs) => evenLap(number(inputs, 'time_s'), number(inputs, 'laps')),
  'run.shortTrackCorrectionS': (inputs) =>
    shortTrackCorrection(number(inputs, 'time_s'), numberOr(inputs, 'run_m', 2400), numberOr(inputs, 'distance_m', 2414.016)),

  'convert.ftToM': (inputs) => feetToMetres(number(inputs, 'ft')),
  'convert.mileToM': (inputs) => milesToMetres(number(inputs, 'mile')),
  'convert.inToCm': (inputs) => inchesToCentimetres(number(inputs, 'inch')),
  'convert.lbToKg': (inputs) => poundsToKilograms(number(inputs, 'lb')),
  'convert.kgToLb': (inputs) => kilogramsToPounds(number(inputs, 'kg')),
  'sitAndReach.cmPastSoles': (inputs) => pastSoles(4 * number(inputs, 'inch'), 'quarterInches', 25.4 * number(inputs, 'zeroInch')) / 10_000,

  'ageAtTest.completedYears': (inputs) => ageOn(text(inputs, 'born'), text(inputs, 'testDate'), leapBirthday(inputs)),
}

/** Density by sex, and percent fat by either conversion, of one equation. */
function densities(name: string, equation: DensityEquation): Quantities {
  const density = (inputs: Inputs) => densityOf(equation, inputs)
  return {
    [`bodyDensity.${name}`]: density,
    [`bodyDensity.${name}.male`]: (inputs) => density({ ...inputs, sex: 'male' }),
    [`bodyDensity.${name}.female`]: (inputs) => density({ ...inputs, sex: 'female' }),
    [`percentFat.${name}.siri`]: (inputs) => siri(density(inputs)),
    [`percentFat.${name}.brozek`]: (inputs) => brozek(density(inputs)),
  }
}

function densityOf(equation: DensityEquation, inputs: Inputs): number {
  if ('c' in inputs && 'm' in inputs) return logDensity(number(inputs, 'c'), number(inputs, 'm'), foldSum(equation, inputs))
  return bodyDensity(equation, sexOf(inputs), foldSum(equation, inputs), ageOf(inputs))
}

/** The sum as it is given, or of the equation's own sites. */
function foldSum(equation: DensityEquation, inputs: Inputs): number {
  const given = Object.keys(inputs).find((name) => /sum/i.test(name))
  if (given) return number(inputs, given)
  return sitesOf(equation, sexOf(inputs)).reduce((sum, site) => sum + number(inputs, `${site}_mm`), 0)
}

/** Age in years, or the first year of a group: '40-49'. */
function ageOf(inputs: Inputs): number {
  return 'age_years' in inputs ? number(inputs, 'age_years') : Number.parseInt(text(inputs, 'ageGroup'), 10)
}

function sexOf(inputs: Inputs): 'M' | 'W' {
  if ('sex_male1_female0' in inputs) return number(inputs, 'sex_male1_female0') === 1 ? 'M' : 'W'
  const sex = text(inputs, 'sex')
  if (sex !== 'male' && sex !== 'female') throw new Error(`sex ${sex}`)
  return sex === 'male' ? 'M' : 'W'
}

function inEitherUnit(name: string, compute: (inputs: Inputs) => number): Quantities {
  return { [`${name}Kg`]: compute, [`${name}Lb`]: compute }
}

const minutes = (inputs: Inputs): number => ('time_s' in inputs ? number(inputs, 'time_s') / 60 : number(inputs, 'time_min'))

function estimate(name: Estimate): (inputs: Inputs) => number {
  return (inputs) => oneRepMax(name, number(inputs, 'load_lb', 'load_kg'), number(inputs, 'reps'))
}

/** Through the rounding that a score takes, to the sixth decimal, so that the check meets the code that scores. */
const ofBodyWeight = (inputs: Inputs, times: 1 | 100): number =>
  roundRatio(times * 1_000_000 * thousandths(inputs, 'oneRM_lb', 'oneRM_kg'), thousandths(inputs, 'bodyWeight_lb', 'bodyWeight_kg'), {
    rule: 'nearest',
    to: 1,
  }) / 1_000_000

function percentile(inputs: Inputs, lookup: 'step' | 'linear'): number | null {
  const table = { ...normTableById(text(inputs, 'table')), lookup }
  return percentileOf(number(inputs, 'value'), table, table.groups[0]).percentile
}

const lms = (inputs: Inputs) => ({ L: number(inputs, 'L'), M: number(inputs, 'M'), S: number(inputs, 'S') })

function leapBirthday(inputs: Inputs): 'march1' | 'february28' {
  const rule = text(inputs, 'feb29Rule')
  if (!/^(1 March|28 February)/.test(rule)) throw new Error(`rule for 29 February: ${rule}`)
  return rule.startsWith('1 March') ? 'march1' : 'february28'
}

/** The first of these inputs that is there. */
function number(inputs: Inputs, ...names: string[]): number {
  const value = names.map((name) => inputs[name]).find((found) => found !== undefined)
  if (typeof value !== 'number') throw new Error(`no number ${names.join(' or ')}`)
  return value
}

const numberOr = (inputs: Inputs, name: string, otherwise: number): number => (name in inputs ? number(inputs, name) : otherwise)

/** A decimal as printed, as a whole number of thousandths. */
const thousandths = (inputs: Inputs, ...names: string[]): number => Math.round(1000 * number(inputs, ...names))

function numbers(inputs: Inputs, name: string): number[] {
  const values = inputs[name]
  if (!Array.isArray(values) || !values.every((value) => typeof value === 'number')) throw new Error(`no numbers ${name}`)
  return values
}

function text(inputs: Inputs, name: string): string {
  const value = inputs[name]
  if (typeof value !== 'string') throw new Error(`no text ${name}`)
  return value
}
