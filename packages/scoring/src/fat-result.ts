import type { DensityEquation } from './body-density.ts'
import { type FatWarning, percentFat } from './percent-fat.ts'
import type { Step } from './working.ts'

export interface FatRules {
  equation: DensityEquation
  conversion: 'siri' | 'brozek'
}

/** The skinfold station's result, ready for `scoreStation`; or why the readings give none. */
export type FatResult =
  | {
      state: 'scored'
      amount: number
      unit: 'tenthsOfPercentFat'
      density: number
      warnings: readonly FatWarning[]
      working: readonly Step[]
    }
  | { state: 'refused'; why: 'sumPastEquation' | 'noSum'; working: readonly Step[] }

/**
 * Percent fat of a completed circuit, rounded once, to a tenth, halves up.
 *
 * @param sumQuarterMillimetres sum of the equation's sites as the station settled it
 * @param working the station's own lines
 */
export function fatResult(
  rules: FatRules,
  sumQuarterMillimetres: number,
  person: { sex: 'M' | 'W'; ageYears: number },
  working: readonly Step[],
): FatResult {
  const fat = percentFat(rules.equation, rules.conversion, person.sex, sumQuarterMillimetres / 4, person.ageYears)
  if (fat.state === 'refused') {
    const line: Step = { step: 'warning', rule: rules.equation, from: `${sumQuarterMillimetres / 4} mm`, gives: fat.why, sources: [] }
    return { state: 'refused', why: fat.why, working: [...working, line] }
  }
  const amount = Math.floor(10 * fat.percentFat + 0.5)
  return {
    state: 'scored',
    amount,
    unit: 'tenthsOfPercentFat',
    density: fat.density,
    warnings: fat.warnings,
    working: [
      ...working,
      {
        step: 'derived',
        rule: `density by ${rules.equation}, ${person.sex}, age ${person.ageYears}; shown to four places, not rounded`,
        from: `${sumQuarterMillimetres / 4} mm`,
        gives: `${fat.density.toFixed(4)} g/mL`,
        sources: [],
      },
      {
        step: 'rounded',
        rule: `percent fat by ${rules.conversion}, to the nearest 0.1 %, halves up`,
        from: 'the density before rounding',
        gives: `${(amount / 10).toFixed(1)} %`,
        sources: [],
      },
      ...fat.warnings.map((warning): Step => ({
        step: 'warning',
        rule: rules.equation,
        from: 'its published bounds',
        gives: warning,
        sources: [],
      })),
    ],
  }
}
