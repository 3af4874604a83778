import fc from 'fast-check'
import { sampleStandardDeviation } from 'simple-statistics'
import { expect, test } from 'vitest'
import { ownReliability, progress, publishedLiftReliability, publishedReliability, type Tested } from './progress.ts'
import {
  expectedRetest,
  minimalDetectableChange,
  reliabilityCoefficient,
  standardError,
  technicalError,
  typicalError,
} from './reliability.ts'

const tested = (amount: number, more: Partial<Tested> = {}): Tested => ({
  amount,
  unit: 'wholeSeconds',
  percentileLabel: '60th',
  group: 'W20–29',
  method: { track: '402.336 m', timing: 'hand' },
  circumstances: {},
  ...more,
})
const error = (value: number) => ({ standardError: value, unit: 'wholeSeconds', source: 'invented for a test' })

test('35 seconds faster over the same track, raw units first; without a known error the size is not judged', () => {
  expect(progress(tested(786), tested(751, { percentileLabel: '70th' }), 'lower', null)).toMatchObject({
    difference: -35,
    direction: 'better',
    verdict: 'errorNotKnown',
    differs: [],
  })
})

test('another timing method is not directly comparable and shows no arrow, whatever the numbers', () => {
  const electronic = tested(600, { method: { track: '402.336 m', timing: 'electronic' } })
  expect(progress(tested(786), electronic, 'lower', error(5))).toMatchObject({
    verdict: 'notDirectlyComparable',
    direction: null,
    differs: ['timing'],
    reliableChangeIndex: null,
  })
  expect(progress(tested(786), tested(600, { unit: 'tenthsOfSecond' }), 'lower', null)).toMatchObject({ differs: ['unit'] })
})

test('what was only different round about is noted', () => {
  const hot = tested(751, { circumstances: { heat: 'WBGT 27.1 °C' } })
  expect(progress(tested(786), hot, 'lower', error(5))).toMatchObject({ notes: ['heat'], verdict: 'clearChange' })
})

test('within the error no clear change, beyond it possible, beyond the detectable change clear', () => {
  const verdicts = [10, 15, 16, 27, 28].map((less) => progress(tested(786), tested(786 - less), 'lower', error(10)).verdict)
  expect(minimalDetectableChange(10)).toBeCloseTo(27.72, 2)
  expect(verdicts).toEqual(['noClearChange', 'possibleChange', 'possibleChange', 'possibleChange', 'clearChange'])
  expect(progress(tested(786), tested(780), 'lower', error(10)).direction).toBeNull()
  expect(progress(tested(786), tested(786), 'lower', error(0))).toMatchObject({ verdict: 'noClearChange' })
})

test('an error in another unit is no error for this score', () => {
  expect(progress(tested(786), tested(751), 'lower', publishedReliability.sitAndReach.W).verdict).toBe('errorNotKnown')
})

test('published: 4 cm of reach, printed whole (J Sports Sci Med 2009;8:116), and 11.6 percent of a lift (Grgic 2020)', () => {
  expect(Math.round(minimalDetectableChange(publishedReliability.sitAndReach.M.standardError) / 10)).toBe(4)
  expect(minimalDetectableChange(publishedLiftReliability(100, 'percentOfBodyMass').standardError)).toBeCloseTo(11.64, 2)
})

test('a site’s own error needs twenty pairs', () => {
  const pairs = Array.from({ length: 20 }, (_, index) => [600, 600 + (index % 5)] as const)
  expect(ownReliability(pairs.slice(1), 'wholeSeconds')).toEqual({ refused: 'tooFewPairs', needs: 20 })
  expect(ownReliability(pairs, 'wholeSeconds')).toMatchObject({ unit: 'wholeSeconds', source: 'this site’s own 20 double measurements' })
})

test('chance alone brings a low score back toward the mean', () => {
  expect(expectedRetest(20, 30, 0.8)).toBe(22)
})

const decimals = fc.array(
  fc.integer({ min: -500, max: 500 }).map((tenths) => tenths / 10),
  { minLength: 2, maxLength: 60 },
)

test('typical error and standard deviation agree with a general-purpose library', () => {
  fc.assert(
    fc.property(decimals, (values) => {
      expect(typicalError(values)).toBeCloseTo(sampleStandardDeviation(values) / Math.SQRT2, 9)
    }),
    { numRuns: 2000 },
  )
})

test('errors scale with their unit and do not move with the zero', () => {
  fc.assert(
    fc.property(decimals, decimals, fc.integer({ min: 1, max: 100 }), fc.integer({ min: -1000, max: 1000 }), (one, other, times, shift) => {
      const n = Math.min(one.length, other.length)
      const [first, second] = [one.slice(0, n), other.slice(0, n)]
      const moved = (values: number[]) => values.map((value) => times * value + shift)
      expect(technicalError(moved(first), moved(second))).toBeCloseTo(times * technicalError(first, second), 6)
    }),
  )
  expect(() => technicalError([1], [])).toThrow(RangeError)
  expect(reliabilityCoefficient([1, 2, 3], [1, 2, 3])).toBe(1)
  expect(standardError(10, 1)).toBe(0)
})
