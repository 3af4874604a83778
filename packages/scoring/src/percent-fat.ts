import { agesOf, bodyDensity, type DensityEquation, turningPointMm } from './body-density.ts'

/** Siri 1961: percent fat from density, g/mL. Below zero above 1.1: flagged by `percentFat`, never clamped. */
export const siri = (density: number): number => 495 / density - 450

/** Brozek 1963: higher than Siri when lean, lower when fat; they cross near 16 to 17 percent. */
export const brozek = (density: number): number => 457 / density - 414.2

/** What a reader must know of a percentage, or why there is none. */
export type FatWarning =
  | 'outsideEquationAges'
  /** Outside the sums for which look-up tables of the three-site equations are printed (limits from memory). */
  | 'outsideUsualSum'
  /** Below about 3 percent in men or 8 in women: asks for a second look. */
  | 'unusuallyLow'

export type PercentFat =
  | { state: 'scored'; percentFat: number; density: number; warnings: readonly FatWarning[] }
  /** The sum is near or past where the equation turns: kept as readings, refused as a score. */
  | { state: 'refused'; why: 'sumPastEquation'; limitMm: number }
  | { state: 'refused'; why: 'noSum' }

/**
 * Percent fat by the named equations, from the unrounded density.
 *
 * @param sumMm sum of the equation's own sites, mm
 */
export function percentFat(
  equation: DensityEquation,
  conversion: 'siri' | 'brozek',
  sex: 'M' | 'W',
  sumMm: number,
  ageYears: number,
): PercentFat {
  const limitMm = sumLimitMm(equation, sex)
  if (!(sumMm > 0)) return { state: 'refused', why: 'noSum' }
  if (limitMm !== null && sumMm > limitMm) return { state: 'refused', why: 'sumPastEquation', limitMm }
  const density = bodyDensity(equation, sex, sumMm, ageYears)
  const fat = conversion === 'siri' ? siri(density) : brozek(density)
  return { state: 'scored', percentFat: fat, density, warnings: warningsOf(equation, sex, sumMm, ageYears, fat) }
}

/** Four fifths of the way to the turning point: beyond, a score is refused. Null where the equation does not turn. */
export function sumLimitMm(equation: DensityEquation, sex: 'M' | 'W'): number | null {
  const turns = turningPointMm(equation, sex)
  return turns === null ? null : 0.8 * turns
}

const usualSumMm = { M: { from: 8, to: 127 }, W: { from: 23, to: 130 } }

function warningsOf(equation: DensityEquation, sex: 'M' | 'W', sumMm: number, ageYears: number, fat: number): FatWarning[] {
  const ages = agesOf(equation, sex)
  const usual = usualSumMm[sex]
  return [
    ...(ageYears < ages.from || ageYears > ages.to ? ['outsideEquationAges' as const] : []),
    ...(equation === 'jacksonPollock3' && (sumMm < usual.from || sumMm > usual.to) ? ['outsideUsualSum' as const] : []),
    ...(fat < (sex === 'M' ? 3 : 8) ? ['unusuallyLow' as const] : []),
  ]
}
