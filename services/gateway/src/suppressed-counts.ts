/** Counts by group and range, with their totals; null: too few to be shown, or another such count could be found from it. */
export interface SuppressedCounts {
  cells: (number | null)[][]
  /** One a range. */
  totals: (number | null)[]
}
/** A total by group, which every table of the same people shares; and of all. */
export interface GroupTotals {
  groups: (number | null)[]
  all: number | null
}

/**
 * How many are in each group. With one hidden a second one is, or the total of all would give it away. Decided once for the same
 * people: what one table hides no other one shows.
 */
export function groupTotals(sizes: readonly number[], least: number): GroupTotals {
  const all = sizes.reduce((sum, size) => sum + size, 0)
  if (all < least) return { groups: sizes.map((size) => (size === 0 ? 0 : null)), all: null }
  const table = guarded([...sizes.map((size) => [size])], { least, isFixed: () => false })
  if (!table) return { groups: sizes.map((size) => (size === 0 ? 0 : null)), all: null }
  return {
    groups: sizes.map((size, row) => (table.isHidden(row, 0) ? null : size)),
    all: table.isHidden(sizes.length, 0) ? null : all,
  }
}

/** A table of the people whose `totals` stand already. null: nothing of it can be shown without giving somebody away. */
export function suppressed(counts: readonly (readonly number[])[], totals: GroupTotals, least: number): SuppressedCounts | null {
  const columns = counts[0]?.length ?? 0
  const hiddenTotals = new Set([...totals.groups, totals.all].flatMap((total, row) => (total === null ? [row] : [])))
  const table = guarded(counts, {
    least,
    isFixed: (row, column) => (column === columns ? (hiddenTotals.has(row) ? 'hidden' : 'shown') : false),
  })
  if (!table) return null
  const sums = Array.from({ length: columns }, (_, column) => counts.reduce((sum, row) => sum + (row[column] ?? 0), 0))
  return {
    cells: counts.map((row, at) => row.map((count, column) => (table.isHidden(at, column) ? null : count))),
    totals: sums.map((sum, column) => (table.isHidden(counts.length, column) ? null : sum)),
  }
}

interface Guard {
  least: number
  /** Cells, totals among them, about which somebody else has decided. */
  isFixed: (row: number, column: number) => 'hidden' | 'shown' | false
}

/**
 * Hides what is small, then the smallest that is needed so that each hidden count could be another one as well, whatever a reader works
 * out from the rest: counts are whole, and none that is hidden is 0, for zeros are shown. Totals stand in a last row and column.
 */
function guarded(
  counts: readonly (readonly number[])[],
  { least, isFixed }: Guard,
): { isHidden(row: number, column: number): boolean } | null {
  const width = counts[0]?.length ?? 0
  const sum = (numbers: readonly number[]) => numbers.reduce((total, one) => total + one, 0)
  const whole = [...counts.map((row) => [...row, sum(row)])]
  whole.push(Array.from({ length: width + 1 }, (_, column) => sum(whole.map((row) => row[column] ?? 0))))
  const height = whole.length
  const valueAt = (row: number, column: number) => whole[row]?.[column] ?? 0
  const hidden = new Set<string>()
  const keyOf = (row: number, column: number) => `${row} ${column}`
  const isHidden = (row: number, column: number) => hidden.has(keyOf(row, column))

  const cells = whole.flatMap((row, at) => row.map((value, column) => ({ row: at, column, value })))
  for (const { row, column, value } of cells) {
    const fixed = isFixed(row, column)
    if (fixed === 'hidden' || (fixed === false && value > 0 && value < least)) hidden.add(keyOf(row, column))
  }

  // A total counts against its row and column. Up: one more in what is added up, or one fewer in a total.
  const isTotal = (row: number, column: number) => (row === height - 1) !== (column === width)
  const moves = (row: number, column: number, up: boolean) => isTotal(row, column) !== up || valueAt(row, column) >= 2
  /** Can one be added to this count, or taken from it, and be made good along a ring of other hidden ones? */
  const shifts = (row: number, column: number, up: boolean): boolean => {
    if (!moves(row, column, up)) return false
    const seen = new Set([`column ${column}`])
    const open: { row?: number; column?: number }[] = [{ column }]
    for (let at = open.pop(); at; at = open.pop()) {
      const along = at
      const next = cells.filter(
        (cell) =>
          isHidden(cell.row, cell.column) &&
          !(cell.row === row && cell.column === column) &&
          (along.column !== undefined
            ? cell.column === along.column && moves(cell.row, cell.column, !up)
            : cell.row === along.row && moves(cell.row, cell.column, up)),
      )
      for (const cell of next) {
        const to = along.column !== undefined ? { row: cell.row } : { column: cell.column }
        if (to.row === row) return true
        const name = to.row !== undefined ? `row ${to.row}` : `column ${to.column}`
        if (!seen.has(name)) {
          seen.add(name)
          open.push(to)
        }
      }
    }
    return false
  }
  const isSafe = (row: number, column: number) => shifts(row, column, true) || shifts(row, column, false)

  for (;;) {
    const bare = cells.find(({ row, column }) => isHidden(row, column) && !isSafe(row, column))
    if (!bare) return { isHidden }
    const more = cells
      .filter(({ row, column, value }) => value > 0 && !isHidden(row, column) && !isFixed(row, column))
      .sort((one, other) => distance(one, bare) - distance(other, bare) || one.value - other.value)[0]
    if (!more) return null
    hidden.add(keyOf(more.row, more.column))
  }
}

/** What shares a row or a column with it helps soonest. */
const distance = (one: { row: number; column: number }, other: { row: number; column: number }): number =>
  one.row === other.row || one.column === other.column ? 0 : 1
