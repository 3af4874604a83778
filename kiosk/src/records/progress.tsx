import type { ProgressLine } from '@musterbook/gateway/standings'
import { sayValue, type ScoreUnit } from '@musterbook/stations/units'
import { DataTable } from '../parts/data-table/data-table.tsx'
import { words } from '../words/words.ts'

/** Raw results first, percentiles under them with their bands, and a direction only where one may be shown. */
export function ProgressLines({ caption, lines }: { caption: string; lines: readonly ProgressLine[] }) {
  const say = words.records
  return (
    <DataTable<ProgressLine>
      caption={caption}
      captionSpoken
      rows={lines}
      rowKey={({ station }) => station}
      columns={[
        { key: 'test', head: say.test, names: true, cell: ({ station }) => station },
        { key: 'then', head: say.then, cell: ({ first }) => <Tested {...first} /> },
        { key: 'now', head: say.now, cell: ({ later }) => <Tested {...later} /> },
        { key: 'difference', head: say.difference, cell: differenceOf },
        { key: 'says', head: say.says, cell: (line) => whatItSays(line).join('; ') },
      ]}
    />
  )
}

function Tested({ says, placing, group }: ProgressLine['first']) {
  return (
    <>
      <strong>{says}</strong>
      <span class="records-note">{[placing, group].filter(Boolean).join(', ')}</span>
    </>
  )
}

function differenceOf({ progress: { difference, direction }, unit }: ProgressLine): string {
  const say = words.records
  if (direction === null) return ''
  const by = sayValue(Math.abs(difference), unit as ScoreUnit)
  if (direction === 'same') return say.directions.same
  if (/second/i.test(unit)) return difference < 0 ? say.faster(by) : say.slower(by)
  return `${by} ${say.directions[direction]}`
}

function whatItSays({ first, later, progress: { verdict, differs, notes, source } }: ProgressLine): string[] {
  const say = words.records
  return [
    say.verdicts[verdict],
    differs.length > 0 ? say.differs(differs.map((what) => say.methods[what] ?? what).join(', ')) : say.alike,
    ...(notes.includes('placeInTheDay') ? [say.orderDiffers(first.order, later.order)] : []),
    ...(notes.includes('heat') ? [say.heatDiffers(first.heat ?? say.noReading, later.heat ?? say.noReading)] : []),
    ...(notes.includes('measuredBy') ? [say.raterDiffers] : []),
    ...(source ? [source] : []),
  ]
}
