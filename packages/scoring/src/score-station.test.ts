import { expect, test } from 'vitest'
import { categoryOf, publishedCategories } from './categories.ts'
import { demoTable } from './controls.ts'
import { demoStandard } from './demo-standard.ts'
import type { MinimumStandard } from './minimum-standard.ts'
import { scoreStation, type ScoredProtocol } from './score-station.ts'

const run: ScoredProtocol = { protocolId: 'run', version: 1, betterIs: 'lower', timing: 'hand' }
const reach: ScoredProtocol = { protocolId: 'sitAndReach', version: 1, betterIs: 'higher', details: { footLineMm: 260 } }
const agility: ScoredProtocol = { protocolId: 'agility', version: 1, betterIs: 'lower', timing: 'hand' }
const seconds = (amount: number) => ({ amount, unit: 'wholeSeconds', working: [] })
const woman = { sex: 'W', ageYears: 24 } as const

test('result, percentile, category and standard stand apart, and the working says each', () => {
  const score = scoreStation(run, seconds(786), woman, { table: demoTable('run'), categories: publishedCategories, standard: demoStandard })
  expect(score).toMatchObject({
    amount: 786,
    placing: { label: '60th', tableId: 'FX-1/run', edition: 'FX-1' },
    category: 'Good',
    standard: 'met',
  })
  expect(score.working.map(({ step, gives }) => `${step}: ${gives}`)).toEqual([
    'group: W20–29',
    'lookedUp: 60th, table FX-1/run, edition FX-1 (invented)',
    'standard: met',
  ])
})

test('another foot-line, clock, unit or direction is no norm, and says which', () => {
  const differs = (protocol: ScoredProtocol, result: { amount: number; unit: string }, table: string) => {
    const { placing, notComparable } = scoreStation(protocol, { ...result, working: [] }, woman, { table: demoTable(table) })
    return [placing.label, ...notComparable]
  }
  expect(differs(reach, { amount: 335, unit: 'millimetres' }, 'sitAndReach')).toEqual(['50th'])
  expect(differs({ ...reach, details: { footLineMm: 230 } }, { amount: 335, unit: 'millimetres' }, 'sitAndReach')).toEqual([
    'no norm',
    'footLineDiffers',
  ])
  expect(differs({ ...reach, details: {} }, { amount: 335, unit: 'millimetres' }, 'sitAndReach')).toEqual(['no norm', 'footLineDiffers'])
  expect(differs({ ...agility, timing: 'electronic' }, { amount: 187, unit: 'tenthsOfSecond' }, 'agility')).toEqual([
    'no norm',
    'timingDiffers',
  ])
  expect(differs(agility, { amount: 1870, unit: 'hundredthsOfSecond' }, 'agility')).toEqual(['no norm', 'unitDiffers'])
  expect(differs({ ...run, betterIs: 'higher' }, { amount: 786, unit: 'wholeSeconds' }, 'run')).toEqual(['no norm', 'directionDiffers'])
})

test('without a table, or a group, there is no norm and a standing asked for is undecided', () => {
  expect(scoreStation(run, seconds(786), woman, { standard: demoStandard })).toMatchObject({
    placing: { label: 'no norm' },
    standard: 'undecided',
    category: null,
  })
  expect(scoreStation(run, seconds(786), { sex: 'W', ageYears: 55 }, { table: demoTable('run'), standard: demoStandard })).toMatchObject({
    placing: { label: 'no norm' },
    standard: 'undecided',
  })
  expect(scoreStation(run, seconds(786), woman, {}).standard).toBeNull()
})

test('below the last row is below any standard that the row can tell, and in the lowest category', () => {
  const score = scoreStation(run, seconds(1200), woman, {
    table: demoTable('run'),
    categories: publishedCategories,
    standard: demoStandard,
  })
  expect(score).toMatchObject({ placing: { percentile: null, label: 'below 10th' }, standard: 'notMet', category: 'Very poor' })
  const lenient: MinimumStandard = { ...demoStandard, rule: { kind: 'percentile', atLeast: 5 } }
  expect(scoreStation(run, seconds(1200), woman, { table: demoTable('run'), standard: lenient }).standard).toBe('undecided')
})

test('a standing asked for is met by the row itself', () => {
  const asks = (atLeast: number) =>
    scoreStation(run, seconds(786), woman, {
      table: demoTable('run'),
      standard: { ...demoStandard, rule: { kind: 'percentile', atLeast } },
    })
  expect([60, 61].map((atLeast) => asks(atLeast).standard)).toEqual(['met', 'notMet'])
})

test('a single value for all, or one a group: the line itself meets it', () => {
  const single: MinimumStandard = {
    ...demoStandard,
    rule: { kind: 'value', unit: 'wholeSeconds', groups: [{ sex: 'any', ageFrom: 18, ageTo: null, value: 786 }] },
  }
  expect([785, 786, 787].map((time) => scoreStation(run, seconds(time), woman, { standard: single }).standard)).toEqual([
    'met',
    'met',
    'notMet',
  ])
  expect(scoreStation(run, seconds(700), { sex: 'M', ageYears: 17 }, { standard: single }).standard).toBe('undecided')
  const threeGroups: MinimumStandard = {
    ...demoStandard,
    rule: {
      kind: 'value',
      unit: 'tenthsOfSecond',
      groups: [
        { sex: 'W', ageFrom: 18, ageTo: 29, value: 190 },
        { sex: 'W', ageFrom: 30, ageTo: 39, value: 195 },
        { sex: 'W', ageFrom: 40, ageTo: null, value: 205 },
      ],
    },
  }
  const meets = (ageYears: number) =>
    scoreStation(agility, { amount: 193, unit: 'tenthsOfSecond', working: [] }, { sex: 'W', ageYears }, { standard: threeGroups }).standard
  expect([29, 30, 39, 40].map(meets)).toEqual(['notMet', 'met', 'met', 'met'])
})

test('each published category begins at its own bound', () => {
  const names = [99, 95, 94.9, 80, 60, 40, 20, 19.9, 1].map((percentile) => categoryOf({ percentile }, publishedCategories))
  expect(names).toEqual(['Superior', 'Superior', 'Excellent', 'Excellent', 'Good', 'Fair', 'Poor', 'Very poor', 'Very poor'])
  expect(categoryOf({ percentile: null, belowRow: 50 }, publishedCategories)).toBeNull()
})

test('a warning on the result stands on the score', () => {
  expect(scoreStation(run, { ...seconds(786), warnings: ['outsideEquationAges'] }, woman, {}).warnings).toEqual(['outsideEquationAges'])
  expect(scoreStation(run, seconds(786), woman, {}).warnings).toEqual([])
})
