import { portableLog10 } from './portable-logarithm.ts'

/** Whose equation, for which sites. What each name stands for is pinned here and never changes; another spelling is another name. */
export type DensityEquation = 'jacksonPollock3' | 'jacksonPollock7' | 'durninWomersley'

interface Quadratic {
  /** density = a - b·S + c·S² - d·age; g/mL, S in mm. */
  a: number
  b: number
  c: number
  d: number
  ages: { from: number; to: number }
}

/**
 * Jackson & Pollock 1978 (men), Jackson, Pollock & Ward 1980 (women). The intercept of the women's three sites circulates
 * in three spellings; pinned is 1.0994921, as NSCA and most others reprint it (1.0994291 and 1.099421 move percent fat by 0.03).
 */
const jacksonPollock: Record<'jacksonPollock3' | 'jacksonPollock7', Record<'M' | 'W', Quadratic>> = {
  jacksonPollock3: {
    M: { a: 1.10938, b: 0.0008267, c: 0.0000016, d: 0.0002574, ages: { from: 18, to: 61 } },
    W: { a: 1.0994921, b: 0.0009929, c: 0.0000023, d: 0.0001392, ages: { from: 18, to: 55 } },
  },
  jacksonPollock7: {
    M: { a: 1.112, b: 0.00043499, c: 0.00000055, d: 0.00028826, ages: { from: 18, to: 61 } },
    W: { a: 1.097, b: 0.00046971, c: 0.00000056, d: 0.00012828, ages: { from: 18, to: 55 } },
  },
}

interface LogRow {
  ages: { from: number; to: number }
  c: number
  m: number
}

/** Durnin & Womersley 1974, table 5: density = c - m·log10(S). Jumps at decade borders: a birthday alone moves the result. */
const durninWomersley: Record<'M' | 'W', readonly LogRow[]> = {
  M: [
    { ages: { from: 17, to: 19 }, c: 1.162, m: 0.063 },
    { ages: { from: 20, to: 29 }, c: 1.1631, m: 0.0632 },
    { ages: { from: 30, to: 39 }, c: 1.1422, m: 0.0544 },
    { ages: { from: 40, to: 49 }, c: 1.162, m: 0.07 },
    { ages: { from: 50, to: 72 }, c: 1.1715, m: 0.0779 },
  ],
  W: [
    { ages: { from: 16, to: 19 }, c: 1.1549, m: 0.0678 },
    { ages: { from: 20, to: 29 }, c: 1.1599, m: 0.0717 },
    { ages: { from: 30, to: 39 }, c: 1.1423, m: 0.0632 },
    { ages: { from: 40, to: 49 }, c: 1.1333, m: 0.0612 },
    { ages: { from: 50, to: 68 }, c: 1.1339, m: 0.0645 },
  ],
}

/**
 * Body density, g/mL, never rounded before percent fat.
 *
 * @param sumMm sum of the equation's own sites
 */
export function bodyDensity(equation: DensityEquation, sex: 'M' | 'W', sumMm: number, ageYears: number): number {
  if (equation === 'durninWomersley') {
    const { c, m } = durninWomersleyRow(sex, ageYears)
    return logDensity(c, m, sumMm)
  }
  const { a, b, c, d } = jacksonPollock[equation][sex]
  return a - b * sumMm + c * sumMm * sumMm - d * ageYears
}

/** c - m·log10(S) for constants that are given. */
export const logDensity = (c: number, m: number, sumMm: number): number => c - m * portableLog10(sumMm)

/** The row that covers the age; outside the ages of the table, the nearest, and `agesOf` says so. */
function durninWomersleyRow(sex: 'M' | 'W', ageYears: number): LogRow {
  const [youngest, ...older] = durninWomersley[sex]
  if (!youngest) throw new Error('a table without rows')
  return older.reduce((row, next) => (ageYears >= next.ages.from ? next : row), youngest)
}

/** For which ages the equation was made. Outside them a score carries a warning. */
export function agesOf(equation: DensityEquation, sex: 'M' | 'W'): { from: number; to: number } {
  if (equation !== 'durninWomersley') return jacksonPollock[equation][sex].ages
  const rows = durninWomersley[sex]
  return { from: rows[0]?.ages.from ?? 0, to: rows.at(-1)?.ages.to ?? 0 }
}

/** Where a quadratic equation turns and more fold would give less fat, mm; null for one that does not turn. */
export function turningPointMm(equation: DensityEquation, sex: 'M' | 'W'): number | null {
  if (equation === 'durninWomersley') return null
  const { b, c } = jacksonPollock[equation][sex]
  return turningPoint(b, c)
}

/** b/(2c), the sum at which b·S - c·S² is largest. */
export const turningPoint = (b: number, c: number): number => b / (2 * c)
