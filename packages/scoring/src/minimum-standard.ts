import type { NormSex, Placing } from './norms.ts'

/**
 * What a site asks at least: its own policy, beside result and percentile and never mixed with them. `percentile` asks the
 * same standing of each group; `value` the same or a different value of each. Which of them is lawful is not decided here.
 */
export interface MinimumStandard {
  id: string
  edition: string
  source: string
  invented: boolean
  rule:
    | { kind: 'percentile'; atLeast: number }
    | { kind: 'value'; unit: string; groups: readonly { sex: NormSex | 'any'; ageFrom: number; ageTo: number | null; value: number }[] }
}

/** Undecided: there is no norm or no group to hold it against, which is neither. */
export type StandardOutcome = 'met' | 'notMet' | 'undecided'

export function meetsStandard(
  standard: MinimumStandard,
  score: { amount: number; unit: string; betterIs: 'higher' | 'lower'; placing: Placing },
  person: { sex: NormSex; ageYears: number },
): StandardOutcome {
  const { rule } = standard
  if (rule.kind === 'percentile') return meetsPercentile(rule.atLeast, score.placing)
  const group = rule.groups.find(({ sex, ageFrom, ageTo }) => {
    return (sex === person.sex || sex === 'any') && person.ageYears >= ageFrom && person.ageYears <= (ageTo ?? Infinity)
  })
  if (!group || rule.unit !== score.unit) return 'undecided'
  return (score.betterIs === 'higher' ? score.amount >= group.value : score.amount <= group.value) ? 'met' : 'notMet'
}

function meetsPercentile(atLeast: number, { percentile, group }: Placing): StandardOutcome {
  const last = group?.points.at(-1)?.percentile
  if (percentile !== null) return percentile >= atLeast ? 'met' : 'notMet'
  return last !== undefined && last <= atLeast ? 'notMet' : 'undecided'
}
