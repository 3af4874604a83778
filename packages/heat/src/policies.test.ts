import { describe, expect, test } from 'vitest'
import { bandAt, stops } from './classify.ts'
import { adjustedWbgt, occupationalClothing } from './clothing.ts'
import { exact } from './exact.ts'
import { demoPolicy, type HeatTable, type HoldRules, policyOf, policyProblems, tableProblems } from './policies.ts'
import { navmedUsmc, offeredTables, publishedTables, tbmed507 } from './published-tables.ts'
import { tenthsOf } from './wbgt.ts'

/** Invented choices of an invented site. */
const choices: HoldRules = {
  population: 'everyone',
  readingsNeeded: true,
  raise: { tenths: 880, included: true },
  lift: { tenths: 870, included: false },
  dwellMinutes: 20,
  settledReadingsToLift: 2,
  readingAgeMinutes: 30,
  contactAgeMinutes: 5,
  derivedWetBulbMayLift: false,
  latched: false,
}

describe('tables', () => {
  test.each(Object.values(publishedTables))('$id is in order, with its ends on tenths', (table) => {
    expect(tableProblems(table)).toEqual([])
    expect(table.citation).not.toBe('')
  })

  test('only the two of the public domain are offered', () => {
    expect(offeredTables).toEqual([tbmed507, navmedUsmc])
    expect(offeredTables.every(({ terms }) => terms === 'publicDomain')).toBe(true)
  })

  test('a misprint is seen by whoever imports it', () => {
    // Two misprints that stand in secondary copies: "84 - 87.9" and "85 - 97.9".
    const misprinted = (index: number, over: object): HeatTable => ({
      ...tbmed507,
      bands: tbmed507.bands.map((band, at) => (at === index ? { ...band, ...over } : band)),
    })
    expect(tableProblems(misprinted(3, { from: { tenths: 840, included: true } }))).toEqual([
      'category 2 (green) and category 3 (yellow) overlap',
    ])
    expect(tableProblems(misprinted(3, { to: { tenths: 979, included: true } }))).toEqual([
      'category 3 (yellow) and category 4 (red) overlap',
    ])
    expect(tableProblems(misprinted(2, { to: { tenths: 810, included: true } }))).toEqual(['category 2 (green) ends before it begins'])
    expect(tableProblems(misprinted(5, { to: { tenths: 999, included: true } }))).toEqual([
      'category 5 (black) is the hottest and has an upper end',
    ])
    expect(tableProblems(misprinted(0, { from: { tenths: 0, included: true } }))).toEqual([
      'below category 1 is the coolest and has a lower end',
    ])
    expect(tableProblems(misprinted(1, { to: { tenths: 819.5, included: true } }))).toEqual(['category 1 does not end on a tenth'])
    expect(tableProblems({ ...tbmed507, bands: [] })).toEqual(['no band'])
  })

  // Armstrong et al. 2007: cancel from 86.1 for the unacclimatised, from 90.1 for the acclimatised.
  test.each([
    [860, 'unacclimatised', false],
    [861, 'unacclimatised', true],
    [900, 'acclimatised', false],
    [901, 'acclimatised', true],
    [901, 'unacclimatised', true],
  ] as const)('at %i tenths, training for the %s is cancelled: %s', (tenths, population, cancelled) => {
    const table = publishedTables['acsm2007_training'] as HeatTable
    expect(stops(bandAt(tenths, table).band, population)).toBe(cancelled)
  })

  test('where each source stops all training', () => {
    const first = (id: string) => {
      const table = publishedTables[id] as HeatTable
      for (let tenths = 0; tenths < 1000; tenths++) if (stops(bandAt(tenths, table).band, 'acclimatised')) return tenths
    }
    expect(['navmed_usmc', 'tbmed507', 'acsm2007_training', 'ghsa_2_67', 'acsm_race'].map(first)).toEqual([900, 900, 901, 921, 281])
  })
})

describe('a policy is a table and what a site decided', () => {
  test('both together, and the invented one, make sense', () => {
    expect(policyProblems(policyOf(navmedUsmc, choices))).toEqual([])
    expect(policyProblems(demoPolicy)).toEqual([])
    expect(demoPolicy.terms).toBe('invented')
  })

  test.each<[Partial<HoldRules>, string]>([
    [{ lift: { tenths: 881, included: false } }, 'one reading would both raise and lift'],
    [{ lift: { tenths: 880, included: true } }, 'one reading would both raise and lift'],
    [{ dwellMinutes: -1 }, 'the dwell is below zero'],
    [{ readingAgeMinutes: 0 }, 'no reading would ever be fresh'],
    [{ contactAgeMinutes: 0 }, 'no device would ever be in contact'],
    [{ settledReadingsToLift: 0 }, 'lifting takes at least one reading'],
    [{ dwellMinutes: 2.5 }, 'dwellMinutes is not a whole number'],
    [{ raise: { tenths: Number.NaN, included: true } }, 'raiseTenths is not a whole number'],
  ])('%j is turned away', (over, problem) => {
    expect(policyProblems({ ...navmedUsmc, ...choices, ...over })).toContain(problem)
    expect(() => policyOf(navmedUsmc, { ...choices, ...over })).toThrow(problem)
  })
})

describe('clothing', () => {
  const addition = (table: HeatTable, id: string) => table.clothing.find((one) => one.id === id) ?? expect.fail(id)

  test('adds a difference, never 32', () => {
    const measured = { degrees: exact(84), scale: 'degF' } as const
    expect(tenthsOf(adjustedWbgt(measured, addition(tbmed507, 'bodyArmour')), 'degF')).toBe(890)
    expect(tenthsOf(adjustedWbgt({ degrees: exact(20), scale: 'degC' }, addition(tbmed507, 'bodyArmour')), 'degC')).toBe(228)
    expect(tenthsOf(adjustedWbgt(measured, addition(navmedUsmc, 'bodyArmourOrChemicalSuit')), 'degF')).toBe(940)
  })

  test('the occupational factors are those of the OSHA manual', () => {
    expect(occupationalClothing.map(({ tenths }) => tenths)).toEqual([0, 0, 5, 10, 30, 110])
    const forces = publishedTables['canadian_forces'] as HeatTable
    expect(addition(forces, 'protectiveSuit')).toMatchObject({ tenths: 50, unit: 'degC', readAs: 'unacclimatised' })
  })
})
