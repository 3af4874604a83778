import { expect, test } from 'vitest'
import { type Sighting, witnesses, witnessSteps } from './witnesses.ts'

const seen = (observationId: string, amount: number, happenedAtMs = 0): Sighting => ({
  observationId,
  amount,
  unit: 'tenthsOfSecond',
  happenedAtMs,
})

test('two watches that differ stay two readings; the slower is provisional', () => {
  const both = [seen('mira', 173), seen('bo', 175, 800)]
  const expected = { state: 'readingsDiffer', provisional: seen('bo', 175, 800), rule: 'slowerCounts' }
  expect(witnesses(both, 'slowerCounts', 60_000)).toEqual(expected)
  expect(witnesses([...both, ...both], 'slowerCounts', 60_000)).toEqual(expected)
})

test('two equal readings agree by themselves, in whatever unit', () => {
  expect(witnesses([seen('mira', 173), seen('bo', 173)], 'slowerCounts', 60_000)).toMatchObject({ state: 'agreed' })
  expect(witnesses([seen('mira', 173), { ...seen('bo', 1730), unit: 'hundredthsOfSecond' }], 'slowerCounts', 60_000)).toMatchObject({
    state: 'agreed',
  })
})

test('more than the window apart they are never paired without a person', () => {
  expect(witnesses([seen('mira', 173), seen('bo', 173, 60_001)], 'slowerCounts', 60_000)).toEqual({ state: 'notMerged', apartMs: 60_001 })
  expect(witnesses([seen('mira', 173), seen('bo', 173, 60_000)], 'slowerCounts', 60_000)).toMatchObject({ state: 'agreed' })
})

test('one is single, none is none, and where a person decides nothing is provisional', () => {
  expect(witnesses([seen('mira', 173)], 'slowerCounts', 60_000)).toMatchObject({ state: 'single' })
  expect(witnesses([], 'slowerCounts', 60_000)).toEqual({ state: 'none' })
  expect(witnesses([seen('mira', 173), seen('bo', 175)], 'personDecides', 60_000)).toMatchObject({ provisional: null })
  expect(witnesses([seen('mira', 173), seen('bo', 175)], 'lowerCounts', 60_000)).toMatchObject({ provisional: { amount: 173 } })
})

test('the working names every witness and the rule between them', () => {
  const both = [seen('mira', 173), seen('bo', 175, 800)]
  expect(witnessSteps(both, witnesses(both, 'slowerCounts', 60_000)).map(({ rule, gives }) => `${rule}: ${gives}`)).toEqual([
    'one of the witnesses: 17.3 s',
    'one of the witnesses: 17.5 s',
    'the witnesses differ, slowerCounts: 17.5 s',
  ])
  const equal = [seen('mira', 173), seen('bo', 173)]
  expect(witnessSteps(equal, witnesses(equal, 'slowerCounts', 60_000)).at(-1)).toMatchObject({
    rule: 'the witnesses agree',
    gives: '17.3 s',
  })
  expect(witnessSteps(both, witnesses(both, 'personDecides', 60_000)).at(-1)?.gives).toBe('a person decides')
  expect(witnessSteps([seen('mira', 173)], witnesses([seen('mira', 173)], 'slowerCounts', 60_000))).toEqual([])
})
