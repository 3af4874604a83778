import { Mark } from '../mark/mark.tsx'
import { DataTable } from './data-table.tsx'
import type { Examples } from '../examples.ts'

interface Row {
  bib: string
  name: string
  run: string
  state: 'done' | 'review'
}
const rows: Row[] = [
  { bib: '101', name: 'Ada Marsh', run: '13:06', state: 'done' },
  { bib: '104', name: 'Marek Dahl', run: '14:22', state: 'review' },
  { bib: '115', name: 'Sunniva Okoro-Lindqvist', run: '12:31', state: 'done' },
]

export const examples: Examples = {
  'sorted by a column': () => (
    <DataTable
      caption="Run, wave 2"
      rows={rows}
      rowKey={({ bib }) => bib}
      columns={[
        { key: 'name', head: 'Name', cell: ({ name }) => name, sortBy: ({ name }) => name },
        { key: 'bib', head: 'Bib', cell: ({ bib }) => bib, figures: true, sortBy: ({ bib }) => Number(bib) },
        { key: 'run', head: 'Run', cell: ({ run }) => run, figures: true, sortBy: ({ run }) => run },
        { key: 'state', head: 'State', cell: ({ state }) => <Mark state={state} /> },
      ]}
    />
  ),
  'nothing to list': () => (
    <DataTable
      caption="Exceptions"
      rows={[] as Row[]}
      rowKey={({ bib }) => bib}
      columns={[]}
      empty={{ says: 'Nothing waits for a decision' }}
    />
  ),
}
