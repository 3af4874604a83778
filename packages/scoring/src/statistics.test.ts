import fc from 'fast-check'
import { binomialDistribution, errorFunction, median, quantileRank } from 'simple-statistics'
import { expect, test } from 'vitest'
import { medianRanks95, quantileRanks95, wilson95 } from './intervals.ts'
import { lmsValueAt, lmsZ } from './lms.ts'
import { expectedBestOf, normalQuantile, normalShareBelow } from './normal.ts'
import { limitsOfAgreement } from './reliability.ts'
import { betaShareBelow, harrellDavis, midrankPercentile, quantile } from './quantiles.ts'

/* Held against a general-purpose library over thousands of random inputs, and against each one's own definition where the library has none. */

const values = fc.array(
  fc.integer({ min: 0, max: 400 }).map((tenths) => tenths / 10),
  { minLength: 1, maxLength: 80 },
)

test('the middle quantile is the library’s median', () => {
  fc.assert(
    fc.property(values, (all) => {
      expect(quantile(all, 0.5)).toBeCloseTo(median(all), 9)
    }),
    { numRuns: 3000 },
  )
})

test('type 7 meets each order statistic at its own place, and is never outside the values', () => {
  fc.assert(
    fc.property(values, fc.double({ min: 0, max: 1, noNaN: true }), (all, p) => {
      const sorted = [...all].sort((a, b) => a - b)
      sorted.forEach((value, index) => {
        if (sorted.length > 1) expect(quantile(all, index / (sorted.length - 1))).toBeCloseTo(value, 6)
      })
      expect(quantile(all, p)).toBeGreaterThanOrEqual(sorted[0] ?? NaN)
      expect(quantile(all, p)).toBeLessThanOrEqual(sorted.at(-1) ?? NaN)
    }),
    { numRuns: 1000 },
  )
  expect(() => quantile([1], 1.1)).toThrow(RangeError)
})

test('mid-ranks are the library’s quantile ranks, from the other end where lower is better', () => {
  fc.assert(
    fc.property(values, fc.nat(400), (all, tenths) => {
      const value = all[tenths % all.length] ?? 0
      const higher = midrankPercentile(all, value, 'higher')
      expect(higher + midrankPercentile(all, value, 'lower')).toBeCloseTo(100, 9)
      // The library counts places from 1, so that its middle of a tie stands half a place higher.
      expect(higher).toBeCloseTo(100 * (quantileRank(all, value) - 0.5 / all.length), 9)
    }),
    { numRuns: 2000 },
  )
})

test('Harrell-Davis weights add up: equal values give themselves, and it moves and scales with its values', () => {
  fc.assert(
    fc.property(values, fc.integer({ min: 1, max: 99 }), fc.integer({ min: 1, max: 20 }), (all, percent, times) => {
      const p = percent / 100
      expect(
        harrellDavis(
          all.map(() => 7),
          p,
        ),
      ).toBeCloseTo(7, 9)
      expect(
        harrellDavis(
          all.map((value) => times * value + 3),
          p,
        ),
      ).toBeCloseTo(times * harrellDavis(all, p) + 3, 6)
    }),
    { numRuns: 500 },
  )
  expect(() => harrellDavis([1], 0)).toThrow(RangeError)
})

test('the beta function is the library’s binomial tail', () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 60 }), fc.integer({ min: 1, max: 99 }), fc.nat(59), (n, percent, at) => {
      const k = Math.min(at, n - 1)
      const shares = binomialDistribution(n, percent / 100) ?? []
      const above = Array.from({ length: n - k }, (_, index) => shares[k + 1 + index] ?? 0).reduce((sum, share) => sum + share, 0)
      // The library leaves off a tail of 1e-4.
      expect(betaShareBelow(percent / 100, k + 1, n - k)).toBeCloseTo(above, 3)
    }),
    { numRuns: 1000 },
  )
})

test('the normal distribution agrees with the library’s error function, and its quantile undoes it', () => {
  fc.assert(
    fc.property(fc.integer({ min: -4500, max: 4500 }), (thousandths) => {
      const z = thousandths / 1000
      expect(normalShareBelow(z)).toBeCloseTo(0.5 + errorFunction(z / Math.SQRT2) / 2, 6)
      expect(normalQuantile(normalShareBelow(z))).toBeCloseTo(z, 7)
    }),
    { numRuns: 2000 },
  )
  expect(normalQuantile(0.975)).toBeCloseTo(1.959963984540054, 12)
  expect([-9, 9].map(normalShareBelow)).toEqual([0, 1])
  expect(() => normalQuantile(1)).toThrow(RangeError)
})

test('the best of n flatters by the expected largest of n: 1/√π for two, 3/(2√π) for three', () => {
  expect(expectedBestOf(1)).toBeCloseTo(0, 9)
  expect(expectedBestOf(2)).toBeCloseTo(1 / Math.sqrt(Math.PI), 9)
  expect(expectedBestOf(3)).toBeCloseTo(1.5 / Math.sqrt(Math.PI), 9)
  expect(() => expectedBestOf(1.5)).toThrow(RangeError)
})

test('LMS: the value at a centile has the z of that centile', () => {
  const group = fc.record({
    L: fc.constantFrom(-2, -1.2, 0, 0.5, 1),
    M: fc.integer({ min: 10, max: 900 }),
    S: fc.integer({ min: 5, max: 20 }).map((s) => s / 100),
  })
  fc.assert(
    fc.property(group, fc.integer({ min: 3, max: 97 }), (lms, centile) => {
      expect(lmsZ(lmsValueAt(centile, lms), lms)).toBeCloseTo(normalQuantile(centile / 100), 6)
    }),
  )
  expect(lmsValueAt(50, { L: 0, M: 18, S: 0.25 })).toBeCloseTo(18, 9)
})

test('Wilson holds the share itself and narrows with n; the ends stay within nought and one', () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 500 }), fc.nat(500), (n, some) => {
      const successes = some % (n + 1)
      const [low, high] = wilson95(successes, n)
      expect(low).toBeLessThanOrEqual(successes / n + 1e-12)
      expect(high).toBeGreaterThanOrEqual(successes / n - 1e-12)
      expect(low).toBeGreaterThanOrEqual(0)
      expect(high).toBeLessThanOrEqual(1)
      const [wideLow, wideHigh] = wilson95(4 * successes, 4 * n)
      expect(wideHigh - wideLow).toBeLessThan(high - low)
    }),
  )
  expect(wilson95(12, 12)[1]).toBe(1)
  expect(() => wilson95(3, 2)).toThrow(RangeError)
})

test('the median of fewer than six cannot be held with 95 percent', () => {
  expect([0, 1, 5].map(medianRanks95)).toEqual([null, null, null])
  expect(medianRanks95(6)).toEqual({ lowerRank: 1, upperRank: 6, coverage: 1 - 2 / 64 })
  expect(medianRanks95(13_393)?.coverage).toBeGreaterThan(0.95)
})

test('ranks for other quantiles lean to their side and keep their coverage', () => {
  const tenth = quantileRanks95(100, 0.1)
  expect(tenth?.coverage).toBeGreaterThanOrEqual(0.95)
  expect(tenth).toMatchObject({ lowerRank: 5 })
  expect(quantileRanks95(10, 0.05)).toBeNull()
})

/**
 * Bland JM, Altman DG, Lancet 1986;1:307–310, table of PEFR in l/min: the first reading of 17 subjects with each of two meters, as R packages carry
 * it. Printed there: mean difference −2.1, SD 38.8, and −79.7 and 75.5, which are two SD from the mean as they are printed; ours stand at 1.96.
 */
test('bias and limits of agreement of the peak flow data as they were printed', () => {
  const wright = [494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427]
  const miniWright = [512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451]
  // Printed as the large meter minus the small one.
  const { pairs, bias, standardDeviation, lower, upper } = limitsOfAgreement(miniWright, wright)
  expect(pairs).toBe(17)
  expect(bias.toFixed(1)).toBe('-2.1')
  expect(standardDeviation.toFixed(1)).toBe('38.8')
  const printed = [Number(bias.toFixed(1)) - 2 * 38.8, Number(bias.toFixed(1)) + 2 * 38.8].map((one) => one.toFixed(1))
  expect(printed).toEqual(['-79.7', '75.5'])
  expect((lower + upper) / 2).toBeCloseTo(bias, 9)
  expect((upper - lower) / standardDeviation).toBeCloseTo(2 * 1.96, 3)
  expect(() => limitsOfAgreement([1], [2])).toThrow(RangeError)
  expect(() => limitsOfAgreement([1, 2], [2])).toThrow(RangeError)
})
