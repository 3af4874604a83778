import { demoNorms } from './demo-norms.ts'
import type { NormGroup, NormTable } from './norms.ts'

/** A table of the invented edition, by its station. */
export function demoTable(test: string): NormTable {
  const found = demoNorms.find((table) => table.test === test)
  if (!found) throw new Error(`no demonstration norms for ${test}`)
  return found
}

/** A table of one group with these rows, best first. */
export function tableOf(points: NormGroup['points'], more: Partial<NormTable> = {}): NormTable & { groups: [NormGroup] } {
  return {
    id: 'invented',
    edition: '1',
    test: 'invented',
    source: 'Invented for a test',
    population: 'Nobody',
    invented: true,
    unit: 'count',
    betterIs: 'higher',
    lookup: 'step',
    outsideAges: 'noNorm',
    ...more,
    groups: [{ sex: 'any', ageFrom: 18, ageTo: null, points }],
  }
}
