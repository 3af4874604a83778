import type * as Decide from '@musterbook/day/decide'
import type * as Evolve from '@musterbook/day/evolve'
import type * as SiteEntries from '@musterbook/testday/site-entries'
import { afterEach, describe, expect, test, vi } from 'vitest'
import { bent } from './bent.ts'
import { planOf } from './plan.ts'
import { planted } from './planted.ts'
import { shortest } from './shortest.ts'
import { live, type Outcome } from './simulate.ts'

/*
 * The simulation sees: for each promise a house with a bug in it, which must be found within a few days of few students.
 */

vi.mock('@musterbook/day/decide', async (original) => {
  const real = await original<typeof Decide>()
  return { ...real, decide: (...asked: Parameters<typeof real.decide>) => (bent.now?.decide?.(real.decide) ?? real.decide)(...asked) }
})
vi.mock('@musterbook/day/evolve', async (original) => {
  const real = await original<typeof Evolve>()
  return { ...real, evolve: (...asked: Parameters<typeof real.evolve>) => (bent.now?.evolve?.(real.evolve) ?? real.evolve)(...asked) }
})
vi.mock('@musterbook/testday/site-entries', async (original) => {
  const real = await original<typeof SiteEntries>()
  return {
    ...real,
    draftOfSiteEntry: (...asked: Parameters<typeof real.draftOfSiteEntry>) => {
      const draft = real.draftOfSiteEntry(...asked)
      return bent.now?.siteEntry?.(draft, asked[0]) ?? draft
    },
  }
})

const students = 8
const daysAtMost = 16

/** The first day on which the promise is seen to break that this bug was planted for. */
async function firstBroken(name: string): Promise<{ seed: number; outcome: Outcome } | undefined> {
  const { promise } = planted[name]!()
  for (let seed = 1; seed <= daysAtMost; seed++) {
    const bug = planted[name]!()
    bent.now = bug
    const outcome = await live(planOf(seed, students), undefined, bug.bends)
    if (outcome.broken.some((one) => one.promise === promise)) return { seed, outcome }
  }
  return undefined
}

afterEach(() => {
  bent.now = null
})

describe('a planted bug is found within a few days', () => {
  // Some show only after a dozen days, which take their time on a busy machine.
  test.each(Object.keys(planted))('%s', { timeout: 120_000 }, async (name) => {
    const { promise } = planted[name]!()
    const found = await firstBroken(name)
    expect(found?.outcome.broken.map((one) => one.promise) ?? [], `not found in ${daysAtMost} days`).toContain(promise)
  })
})

test('every promise that the simulation keeps has a bug that breaks it', () => {
  const promises = new Set(Object.values(planted).map((bug) => bug().promise))
  expect([...promises].sort()).toEqual(['S1', 'S10', 'S11', 'S2', 'S3', 'S4', 'S5', 'S6', 'S7', 'S8', 'S9'])
})

test('a day that breaks a promise is shortened to a prefix of few steps that still breaks it', async () => {
  const found = await firstBroken('two attempts at once')
  const bug = planted['two attempts at once']!()
  bent.now = bug
  const plan = planOf(found!.seed, students)
  const { steps, outcome } = await shortest(plan, found!.outcome, { daysAtMost: 60, msAtMost: 15_000 })
  expect(outcome.broken[0]?.promise).toBe('S8')
  expect(steps.length).toBeLessThan(plan.steps.length / 10)
  const again = await live(plan, steps)
  expect(again.broken[0]?.promise).toBe('S8')
})
