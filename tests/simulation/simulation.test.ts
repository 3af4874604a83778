import { describe, expect, test } from 'vitest'
import { planOf } from './plan.ts'
import { live } from './simulate.ts'

/* The short form of `npm run -s simulate`: whole days with every trouble, and no promise broken. */

describe('no promise breaks, after any entry, crash, seal, and at the end', () => {
  test.each([101, 102, 103, 104, 105, 106, 107, 108, 109, 110])('on day %i, with twelve students', async (seed) => {
    const { broken, entries } = await live(planOf(seed, 12))
    expect(broken).toEqual([])
    expect(entries).toBeGreaterThan(300)
  })

  test.each([201, 202])('on day %i, with forty students', async (seed) => {
    const { broken, entries } = await live(planOf(seed, 40))
    expect(broken).toEqual([])
    expect(entries).toBeGreaterThan(1_000)
  })
})

test('a seed alone gives the same day again', async () => {
  const [one, other] = [await live(planOf(301, 8)), await live(planOf(301, 8))]
  expect(other.digest).toBe(one.digest)
  expect(other.entries).toBe(one.entries)
})

test('the days reach what they are to reach: starts, refusals, holds lifted, runs ended, crashes, seals, and what comes after', async () => {
  const seen = new Map<string, number>()
  let crashes = 0
  let late = 0
  for (let seed = 401; seed <= 406; seed++) {
    const outcome = await live(planOf(seed, 10))
    for (const [name, count] of outcome.counts) seen.set(name, (seen.get(name) ?? 0) + count)
    crashes += outcome.crashes
    late += outcome.late
  }
  for (const name of [
    'attemptStarted',
    'resultRecorded',
    'waveStarted',
    'finishRecorded',
    'holdRaised',
    'holdLifted',
    'attemptInterrupted',
    'studentStopped',
    'studentRestored',
    'corrected',
    'reviewRuled',
    'daySealed',
    'no: notCleared',
    'no: triesUsed',
    'no: otherUnderWay',
  ])
    expect([name, seen.get(name) ?? 0]).toSatisfy(([, times]) => (times as number) > 0)
  expect(crashes).toBeGreaterThan(2)
  expect(late).toBeGreaterThan(10)
})
