import type { NormGroup, NormTable } from './norms.ts'

/**
 * FX-1: evenly spaced norms, INVENTED for the demonstration and for tests of behaviour. They describe nobody.
 * Look-up: the highest row that is met, equality meets, nothing in between, worse than the last row is 'below 10th'.
 */
export const demoNorms: readonly NormTable[] = [
  demoTable({
    test: 'run',
    unit: 'wholeSeconds',
    betterIs: 'lower',
    groups: [
      evenGroup('M', 20, 29, 580, 40),
      evenGroup('M', 30, 39, 610, 40),
      evenGroup('W', 20, 29, 680, 40),
      evenGroup('W', 30, 39, 710, 40),
    ],
  }),
  demoTable({
    test: 'agility',
    unit: 'tenthsOfSecond',
    betterIs: 'lower',
    timing: 'hand',
    groups: [
      evenGroup('M', 20, 29, 160, 5),
      evenGroup('M', 30, 39, 164, 5),
      evenGroup('W', 20, 29, 175, 5),
      evenGroup('W', 30, 39, 179, 5),
    ],
  }),
  demoTable({
    test: 'sitAndReach',
    unit: 'millimetres',
    betterIs: 'higher',
    footLineMm: 260,
    groups: [
      evenGroup('M', 20, 29, 420, -30),
      evenGroup('M', 30, 39, 405, -30),
      evenGroup('W', 20, 29, 450, -30),
      evenGroup('W', 30, 39, 435, -30),
    ],
  }),
  demoTable({
    test: 'benchPress',
    unit: 'percentOfBodyMass',
    betterIs: 'higher',
    groups: [
      evenGroup('M', 20, 29, 140, -10),
      evenGroup('M', 30, 39, 134, -10),
      evenGroup('W', 20, 29, 86, -7),
      evenGroup('W', 30, 39, 82, -7),
    ],
  }),
  demoTable({
    test: 'skinfold',
    unit: 'tenthsOfPercentFat',
    betterIs: 'lower',
    groups: [
      evenGroup('M', 20, 29, 90, 20),
      evenGroup('M', 30, 39, 110, 20),
      evenGroup('W', 20, 29, 170, 20),
      evenGroup('W', 30, 39, 190, 20),
    ],
  }),
]

function demoTable(table: Pick<NormTable, 'test' | 'unit' | 'betterIs' | 'groups' | 'timing' | 'footLineMm'>): NormTable {
  return {
    id: `FX-1/${table.test}`,
    edition: 'FX-1',
    source: 'Invented for the demonstration of this software',
    population: 'Nobody: evenly spaced invented figures',
    invented: true,
    lookup: 'step',
    outsideAges: 'noNorm',
    ...table,
  }
}

/** Nine rows, 90th to 10th, each the same step worse than the one before. */
function evenGroup(sex: 'M' | 'W', ageFrom: number, ageTo: number, best: number, step: number): NormGroup {
  const points = [90, 80, 70, 60, 50, 40, 30, 20, 10].map((percentile, row) => ({ percentile, value: best + row * step }))
  return { sex, ageFrom, ageTo, points }
}
