import { litresPerQuart, mostFluidQuarts } from '@musterbook/heat/work-rest'
import type { SafetyView } from '@musterbook/day/views/safety'
import { DataTable } from '../parts/data-table/data-table.tsx'
import { figure } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { paceRow } from './pace-row.ts'

/** How the adopted table paces a day in the band of the newest reading: its row, its source, its caution; advice to nobody. */
export function PaceCard({ safety: { newest, policy } }: { safety: SafetyView }) {
  const row = newest && policy && newest.wbgtTenths !== null ? paceRow(policy, newest.band) : []
  if (!newest || !policy || row.length === 0) return null
  const says = words.safety.pace
  const litres = (quarts: number) => figure(quarts * litresPerQuart, 1)
  return (
    <section class="policy" aria-label={says.title(newest.band)}>
      <DataTable
        caption={says.title(newest.band)}
        rows={row}
        rowKey={({ work }) => work}
        columns={[
          { key: 'work', head: says.column.work, cell: ({ work }) => says.work[work] },
          {
            key: 'rest',
            head: says.column.rest,
            cell: ({ pace: { workRest } }) => (workRest ? says.minutes(workRest.workMinutes, workRest.restMinutes) : says.noLimit),
            figures: true,
          },
          {
            key: 'water',
            head: says.column.water,
            cell: ({ pace }) => says.water(figure(pace.waterQuarterQuartsPerHour / 4, 2), litres(pace.waterQuarterQuartsPerHour / 4)),
            figures: true,
          },
        ]}
      />
      <p>{says.source(policy.citation, policy.edition)}</p>
      <p>{says.caution(litres(mostFluidQuarts.perHour), litres(mostFluidQuarts.perDay))}</p>
    </section>
  )
}
