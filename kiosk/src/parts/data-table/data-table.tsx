import type { ComponentChildren } from 'preact'
import { useId, useState } from 'preact/hooks'
import { words } from '../../words/words.ts'
import { EmptyState } from '../empty-state/empty-state.tsx'
import './data-table.css'

interface Column<Row> {
  key: string
  head: string
  cell: (row: Row) => ComponentChildren
  /** Names the row; the first column does, unless another says so. */
  names?: boolean
  /** Figures stand under one another. */
  figures?: boolean
  /** Holds nothing but keys: paper has no use for it. */
  screenOnly?: boolean
  /** With it the column can be sorted by. */
  sortBy?: (row: Row) => string | number
}

export interface DataTableProps<Row> {
  caption: string
  columns: readonly Column<Row>[]
  rows: readonly Row[]
  rowKey: (row: Row) => string
  empty?: { says: string; help?: string } | undefined
  /** Hides the caption from the eye, where a heading says the same. */
  captionSpoken?: boolean
}

/** A ruled table. Wider than the screen, it scrolls by itself and can be reached by keyboard. */
export function DataTable<Row>({ caption, columns, rows, rowKey, empty, captionSpoken }: DataTableProps<Row>) {
  const id = useId()
  const [sorted, sort] = useState<{ key: string; down: boolean } | undefined>(undefined)
  if (rows.length === 0) return <EmptyState says={empty?.says ?? words.table.empty} help={empty?.help} />

  const by = columns.find(({ key }) => key === sorted?.key)?.sortBy
  const shown = by ? [...rows].sort((a, b) => compare(by(a), by(b)) * (sorted?.down ? -1 : 1)) : rows
  const naming = columns.find(({ names }) => names) ?? columns[0]

  return (
    <div class="table-scroll" role="region" aria-labelledby={id} tabIndex={0}>
      <table class="table">
        <caption id={id} class={captionSpoken ? 'spoken' : undefined}>
          {caption}
        </caption>
        <thead>
          <tr>
            {columns.map((column) => (
              <th
                key={column.key}
                scope="col"
                class={column.screenOnly ? 'screen-only' : column.figures ? 'table-figures' : undefined}
                aria-sort={sorted?.key === column.key ? (sorted.down ? 'descending' : 'ascending') : undefined}
              >
                {column.sortBy ? (
                  <button
                    type="button"
                    class="table-sort"
                    onClick={() => sort({ key: column.key, down: sorted?.key === column.key && !sorted.down })}
                  >
                    {column.head}
                    <span aria-hidden="true">{sorted?.key !== column.key ? ' ↕' : sorted.down ? ' ↓' : ' ↑'}</span>
                  </button>
                ) : (
                  column.head
                )}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {shown.map((row) => (
            <tr key={rowKey(row)}>
              {columns.map((column) => {
                const className = column.screenOnly ? 'screen-only' : column.figures ? 'table-figures figures' : undefined
                return column === naming ? (
                  <th key={column.key} scope="row" class={className}>
                    {column.cell(row)}
                  </th>
                ) : (
                  <td key={column.key} class={className}>
                    {column.cell(row)}
                  </td>
                )
              })}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}

function compare(a: string | number, b: string | number): number {
  return typeof a === 'number' && typeof b === 'number' ? a - b : String(a).localeCompare(String(b), undefined, { numeric: true })
}
