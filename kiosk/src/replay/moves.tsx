import type { Difference, Placed } from '@musterbook/replay/compare'
import { DataTable } from '../parts/data-table/data-table.tsx'
import { whoIs } from '../supervisor/who.ts'
import { words } from '../words/words.ts'
import type { Desk } from './desk.ts'
import { resultSays } from './result-says.ts'

interface Props {
  desk: Desk
  caption: string
  moves: readonly Difference[]
  before: string
  after: string
}

export function placedSays(one: Placed): string {
  const state = words.supervisor.board.result[one.state]
  return `${resultSays(one)}${state ? ` (${state})` : ''}`
}

/** Who stands where on one side and on the other. */
export function Moves({ desk, caption, moves, before, after }: Props) {
  return (
    <DataTable
      caption={caption}
      rows={moves}
      rowKey={({ studentId, stationId }) => `${studentId} ${stationId}`}
      columns={[
        { key: 'who', head: words.replay.whatIf.student, names: true, cell: (one) => whoIs(desk.house, one.studentId, one.bib) },
        { key: 'test', head: words.replay.test, cell: (one) => one.station },
        { key: 'before', head: before, figures: true, cell: (one) => placedSays(one.before) },
        { key: 'after', head: after, figures: true, cell: (one) => placedSays(one.after) },
      ]}
    />
  )
}
