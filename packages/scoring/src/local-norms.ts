import { type RankInterval, quantileRanks95 } from './intervals.ts'
import type { NormGroup, NormSex, NormTable } from './norms.ts'
import { harrellDavis, quantile } from './quantiles.ts'

/** One final result of the site's own records, in the score unit. */
export interface LocalResult {
  value: number
  sex: NormSex
  ageYears: number
}

/** What the site decides when it makes norms of its own records. */
export interface LocalPlan {
  id: string
  edition: string
  test: string
  unit: string
  betterIs: 'higher' | 'lower'
  method: 'type7' | 'harrellDavis'
  percentiles: readonly number[]
  groups: readonly { sex: NormSex; ageFrom: number; ageTo: number | null }[]
  /** Values outside are listed for a person to look at. They stay in: leaving one out is a ruling on that result. */
  plausible: { min: number; max: number }
  footLineMm?: number
  timing?: 'hand' | 'electronic'
}

/** One group as it came out: which percentiles its size allows, how sure each value is, what to look at. */
export interface LocalGroup {
  sex: NormSex
  ageFrom: number
  ageTo: number | null
  n: number
  points: readonly { percentile: number; value: number; between: [number, number] | null }[]
  refused: readonly { percentile: number; needs: number }[]
  implausible: readonly number[]
}

/**
 * Norms of the site's own. A percentile is published only where about five people are expected beyond it (rule of thumb,
 * from memory): 100 for the 5th and 95th, 50 for the 10th and 90th, 20 for quartiles; small groups are refused.
 */
export function localNorms(results: readonly LocalResult[], plan: LocalPlan): { table: NormTable; groups: readonly LocalGroup[] } {
  const groups = plan.groups.map((group) => localGroup(results, group, plan))
  const published = groups.filter((group) => group.points.length > 0).map(asNormGroup)
  const sizes = groups.map((group) => `${group.sex}${group.ageFrom}–${group.ageTo ?? ''}: ${group.n}`).join(', ')
  const { id, edition, test, unit, betterIs } = plan
  return {
    groups,
    table: {
      id,
      edition,
      test,
      unit,
      betterIs,
      source: `This site’s own records, ${plan.method === 'type7' ? 'quantiles of type 7' : 'Harrell-Davis quantiles'}`,
      population: `This site’s own students, ${sizes}`,
      invented: false,
      lookup: 'step',
      outsideAges: 'noNorm',
      groups: published,
      ...(plan.footLineMm !== undefined && { footLineMm: plan.footLineMm }),
      ...(plan.timing && { timing: plan.timing }),
    },
  }
}

/** How many people a group needs before this percentile is published: five expected beyond it. */
export const neededFor = (percentile: number): number => Math.ceil(500 / Math.min(percentile, 100 - percentile))

function localGroup(results: readonly LocalResult[], group: LocalPlan['groups'][number], plan: LocalPlan): LocalGroup {
  const own = results.filter(({ sex, ageYears }) => sex === group.sex && ageYears >= group.ageFrom && ageYears <= (group.ageTo ?? Infinity))
  const values = own.map((result) => result.value).sort((a, b) => a - b)
  const wanted = [...plan.percentiles].sort((a, b) => b - a)
  const allowed = wanted.filter((percentile) => values.length >= neededFor(percentile))
  return {
    ...group,
    n: values.length,
    points: allowed.map((percentile) => localPoint(values, percentile, plan)),
    refused: wanted
      .filter((percentile) => !allowed.includes(percentile))
      .map((percentile) => ({ percentile, needs: neededFor(percentile) })),
    implausible: values.filter((value) => value < plan.plausible.min || value > plan.plausible.max),
  }
}

/** A percentile says how many are worse: where lower is better it is the other tail of the measured value. */
function localPoint(sorted: readonly number[], percentile: number, plan: LocalPlan): LocalGroup['points'][number] {
  const p = (plan.betterIs === 'higher' ? percentile : 100 - percentile) / 100
  const value = plan.method === 'type7' ? quantile(sorted, p) : harrellDavis(sorted, p)
  return { percentile, value, between: valuesAt(sorted, quantileRanks95(sorted.length, p)) }
}

function valuesAt(sorted: readonly number[], ranks: RankInterval | null): [number, number] | null {
  const lower = ranks && sorted[ranks.lowerRank - 1]
  const upper = ranks && sorted[ranks.upperRank - 1]
  return typeof lower === 'number' && typeof upper === 'number' ? [lower, upper] : null
}

const asNormGroup = ({ sex, ageFrom, ageTo, points }: LocalGroup): NormGroup => ({
  sex,
  ageFrom,
  ageTo,
  points: points.map(({ percentile, value }) => ({ percentile, value })),
})
