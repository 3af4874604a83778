import type { RecordView } from '@musterbook/day/views/record'
import type { AgreementLine } from './agreement.ts'
import { groupTotals, suppressed, type GroupTotals, type SuppressedCounts } from './suppressed-counts.ts'

/** Ranges of percentiles, each from its first number up; whoever has none stands last. */
const percentileRanges = ['below 30th', '30th to 49th', '50th to 69th', '70th and above', 'no result'] as const

/** A class on one day, in counts. Nobody is named, and no small group can be worked out. */
export interface CohortPage {
  students: number | null
  least: number
  ranges: readonly string[]
  /** Norm sex and age in decades, as the norms were applied. */
  groups: string[]
  totals: GroupTotals
  tests: { test: string; table: string | null; counts: SuppressedCounts | null }[]
}

/** The same, and how far those agree who read the same things. */
export interface ClassPage extends CohortPage {
  agreement: AgreementLine[]
}

export function cohortPage(records: readonly RecordView[], least: number): CohortPage {
  const present = records.filter(({ presence }) => presence === 'present' || presence === 'complete')
  const groupOf = ({ normGroup: { sex, ageYears } }: RecordView) =>
    `${sex} ${Math.floor(ageYears / 10) * 10} to ${Math.floor(ageYears / 10) * 10 + 9}`
  const groups = [...new Set(present.map(groupOf))].sort()
  const inGroup = groups.map((group) => present.filter((record) => groupOf(record) === group))
  const totals = groupTotals(
    inGroup.map((all) => all.length),
    least,
  )
  const stations = present[0]?.stations ?? []
  return {
    students: totals.all,
    least,
    ranges: percentileRanges,
    groups,
    totals,
    tests: stations.map(({ stationId, name, result }) => ({
      test: name,
      table:
        result.table ??
        present.flatMap((one) => one.stations.find((other) => other.stationId === stationId)?.result.table ?? [])[0] ??
        null,
      counts:
        totals.all === null
          ? null
          : suppressed(
              inGroup.map((all) => countsOf(all, stationId)),
              totals,
              least,
            ),
    })),
  }
}

function countsOf(records: readonly RecordView[], stationId: string): number[] {
  const counts = percentileRanges.map(() => 0)
  for (const record of records) {
    const at = rangeOf(record.stations.find((one) => one.stationId === stationId)?.result)
    counts[at] = (counts[at] ?? 0) + 1
  }
  return counts
}

/** A result without a percentile, but with one placed below the table, stands in the lowest range. */
function rangeOf(result: RecordView['stations'][number]['result'] | undefined): number {
  if (!result || result.amount === null || result.placing === null || result.placing === 'no norm') return percentileRanges.length - 1
  const percentile = result.percentile ?? 0
  return percentile < 30 ? 0 : percentile < 50 ? 1 : percentile < 70 ? 2 : 3
}
