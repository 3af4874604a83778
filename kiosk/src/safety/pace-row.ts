import { tbmed507 } from '@musterbook/heat/published-tables'
import { paceOf, type Pace, type Work } from '@musterbook/heat/work-rest'
import type { HeatPolicy } from '@musterbook/heat/policies'

/** The row of the card for a band of the policy in force, or nothing where the adopted table has no such card. */
export function paceRow(policy: HeatPolicy, band: string): { work: Work; pace: Pace }[] {
  if (policy.id !== tbmed507.id) return []
  const category = tbmed507.bands.findIndex(({ id }) => id === band)
  return (['easy', 'moderate', 'hard'] as const).flatMap((work) => {
    const pace = paceOf(category, work)
    return pace ? [{ work, pace }] : []
  })
}
