import { dayChart } from '@musterbook/heat/day-chart'
import type { ReadingStrip } from '@musterbook/day/views/parts'
import type { SafetyView } from '@musterbook/day/views/safety'
import type { House } from '../house/house.ts'
import { Chart } from '../parts/chart/chart.tsx'
import { DataTable } from '../parts/data-table/data-table.tsx'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { clockOff, figure, shortDuration, wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { PolicyInForce } from './now.tsx'
import type { Contact } from './roll-call.ts'
import { wbgtSays } from './wbgt-says.ts'

interface Props {
  house: House
  safety: SafetyView
  contacts: readonly Contact[]
}

/** The day's readings against the bands of the policy, its holds, who was out, and the devices: drawn and as tables. */
export function DayOfHeat({ house, safety, contacts }: Props) {
  const zone = house.day.value?.timeZone ?? 'UTC'
  const nameOf = (personId: string | null) => (personId ? (house.staff.value.get(personId) ?? personId) : '')
  return (
    <div class="stack">
      <Drawn house={house} safety={safety} zone={zone} />
      {!house.lost.value && (
        <p>
          <a class="button" href={`/sheets/days/${safety.dayId}/safety-timeline`} target="_blank" rel="noreferrer">
            {words.safety.printTimeline}
          </a>
        </p>
      )}
      <DataTable
        caption={words.safety.readings}
        rows={[...safety.readings].reverse()}
        rowKey={({ readingId }) => readingId}
        columns={[
          { key: 'at', head: words.safety.column.at, cell: ({ readAt }) => wallClock(readAt, zone), figures: true },
          {
            key: 'value',
            head: words.safety.column.value,
            cell: wbgtSays,
            figures: true,
          },
          { key: 'band', head: words.safety.column.band, cell: ({ band }) => band },
          { key: 'looks', head: words.safety.column.looks, cell: looksOf },
          { key: 'place', head: words.safety.column.place, cell: (reading) => reading.zone },
          { key: 'instrument', head: words.safety.column.instrument, cell: ({ instrumentId }) => instrumentId },
          { key: 'by', head: words.safety.column.by, cell: ({ readBy }) => nameOf(readBy) },
        ]}
      />
      <PolicyInForce safety={safety} />
      <DataTable
        caption={words.safety.devices}
        rows={contacts}
        rowKey={({ deviceId }) => deviceId}
        columns={[
          { key: 'name', head: words.safety.deviceColumn.name, cell: ({ name }) => name },
          {
            key: 'heard',
            head: words.safety.deviceColumn.heard,
            cell: ({ lastHeardAt }) =>
              lastHeardAt === null ? words.safety.neverHeard : words.common.ago(shortDuration(house.clock.now.value - lastHeardAt)),
          },
          {
            key: 'offset',
            head: words.safety.deviceColumn.offset,
            cell: ({ deviceId }) => {
              const clock = safety.devices.find((one) => one.deviceId === deviceId)
              return clock ? words.safety.offset(clockOff(clock.offsetMs), clockOff(clock.bandMs)) : ''
            },
          },
        ]}
      />
    </div>
  )
}

const looksOf = ({ settled, saidSettledEarly, usable, method }: ReadingStrip): string =>
  method === 'estimate'
    ? words.safety.looks.estimate
    : !settled
      ? words.safety.looks.notSettled
      : usable
        ? saidSettledEarly
          ? words.safety.looks.saidEarly
          : words.safety.looks.counts
        : words.safety.looks.doubtful

function Drawn({ house, safety, zone }: { house: House; safety: SafetyView; zone: string }) {
  const { policy } = safety
  if (!policy || safety.readings.length === 0) return <EmptyState says={words.safety.chartNone} />
  const now = house.clock.now.value
  const chart = dayChart(
    {
      fromMs: Math.min(...safety.readings.map(({ readAt }) => readAt)),
      toMs: now,
      readings: safety.readings,
      holds: safety.holds.map(({ holdId, kind, since, lifted }) => ({ holdId, kind, raisedAt: since, liftedAt: lifted?.at ?? null })),
      out: safety.out,
    },
    policy,
  )
  return (
    <>
      <Chart
        title={words.safety.chartTitle}
        unit={words.safety.unit[chart.unit]}
        points={chart.points.map(({ atMs, tenths }) => ({ at: atMs, value: tenths / 10 }))}
        zone={zone}
        bands={chart.holds.map(({ fromMs, toMs }) => ({ from: fromMs, to: toMs, says: words.safety.chartHold }))}
        limits={limitsOf(chart, policy.id)}
      />
      <DataTable
        caption={words.safety.whoWasOut}
        rows={chart.out}
        rowKey={({ fromMs }) => String(fromMs)}
        columns={[
          { key: 'from', head: words.safety.outColumn.from, cell: ({ fromMs }) => wallClock(fromMs, zone), figures: true },
          { key: 'count', head: words.safety.outColumn.count, cell: ({ count }) => figure(count), figures: true },
        ]}
      />
    </>
  )
}

/** Where a band of the policy begins within the drawing, by its own name; the hold value by the policy's. */
function limitsOf(chart: ReturnType<typeof dayChart>, policyId: string) {
  const begins = chart.bands
    .filter(({ fromTenths }) => fromTenths > chart.lowestTenths && fromTenths !== chart.raiseTenths)
    .map(({ id, fromTenths }) => ({ value: fromTenths / 10, says: id }))
  return [...begins, { value: chart.raiseTenths / 10, says: words.safety.chartRaise(policyId) }]
}
