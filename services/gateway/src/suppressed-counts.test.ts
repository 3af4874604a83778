import fc from 'fast-check'
import { expect, test } from 'vitest'
import { groupTotals, suppressed, type GroupTotals, type SuppressedCounts } from './suppressed-counts.ts'

test('a small count is hidden, and so is what would give it away', () => {
  const totals = groupTotals([20, 12], 5)
  expect(totals).toEqual({ groups: [20, 12], all: 32 })
  const counts = [
    [3, 17],
    [6, 6],
  ]
  const shown = suppressed(counts, totals, 5)
  expect(shown).not.toBeNull()
  expect(shown?.cells.flat().filter((cell) => cell === null).length).toBeGreaterThanOrEqual(4)
})

test('one small group hides a second one; too few altogether hide the total as well', () => {
  expect(groupTotals([20, 12, 3], 5)).toEqual({ groups: [20, null, null], all: 35 })
  expect(groupTotals([2, 1], 5)).toEqual({ groups: [null, null], all: null })
})

test('what is large enough is shown whole, zeros too', () => {
  const totals = groupTotals([11, 10], 5)
  const counts = [
    [5, 6],
    [10, 0],
  ]
  expect(suppressed(counts, totals, 5)).toEqual({ cells: counts, totals: [15, 6] })
})

test('whoever works out every table that fits what is shown never finds a hidden count, nor one below the threshold shown', () => {
  const least = 5
  const tables = fc
    .tuple(fc.integer({ min: 1, max: 3 }), fc.integer({ min: 2, max: 3 }))
    .chain(([rows, columns]) =>
      fc.array(fc.array(fc.integer({ min: 0, max: 7 }), { minLength: columns, maxLength: columns }), { minLength: rows, maxLength: rows }),
    )
  let hiddenSeen = 0
  fc.assert(
    fc.property(tables, (counts) => {
      const totals = groupTotals(counts.map(total), least)
      const shown = suppressed(counts, totals, least)
      if (!shown) return
      for (const cell of [...shown.cells.flat(), ...shown.totals, ...totals.groups, totals.all])
        expect(cell === null || cell === 0 || cell >= least).toBe(true)
      const fitting = everyFit(shown, totals, counts)
      for (const [row, cells] of shown.cells.entries())
        for (const [column, cell] of cells.entries())
          if (cell === null) {
            hiddenSeen += 1
            expect(new Set(fitting.map((table) => table[row]?.[column])).size).toBeGreaterThan(1)
          }
      for (const [column, sum] of shown.totals.entries())
        if (sum === null) expect(new Set(fitting.map((table) => total(table.map((row) => row[column] ?? 0)))).size).toBeGreaterThan(1)
      for (const [row, sum] of totals.groups.entries())
        if (sum === null) expect(new Set(fitting.map((table) => total(table[row] ?? []))).size).toBeGreaterThan(1)
    }),
    { numRuns: 150, seed: 20270511 },
  )
  expect(hiddenSeen).toBeGreaterThan(100)
})

const total = (numbers: readonly number[]): number => numbers.reduce((sum, one) => sum + one, 0)

/** Every table of whole counts that agrees with all that is shown, each hidden count at least 1 and near enough to the true one. */
function everyFit(shown: SuppressedCounts, totals: GroupTotals, truth: readonly (readonly number[])[]): number[][][] {
  const columns = truth[0]?.length ?? 0
  const rowFits = truth.map((row, at) => {
    let fits: number[][] = [[]]
    for (const [column, count] of row.entries()) {
      const cell = shown.cells[at]?.[column]
      const could = typeof cell === 'number' ? [cell] : [count - 2, count - 1, count, count + 1, count + 2].filter((one) => one >= 1)
      fits = fits.flatMap((before) => could.map((one) => [...before, one]))
    }
    const sum = totals.groups[at]
    return fits.filter((one) => (typeof sum === 'number' ? total(one) === sum : total(one) >= 1))
  })
  let tables: number[][][] = [[]]
  for (const fits of rowFits) tables = tables.flatMap((before) => fits.map((row) => [...before, row]))
  return tables.filter((table) => {
    if (typeof totals.all === 'number' && total(table.map(total)) !== totals.all) return false
    return Array.from({ length: columns }, (_, column) => total(table.map((row) => row[column] ?? 0))).every((sum, column) => {
      const published = shown.totals[column]
      return typeof published === 'number' ? sum === published : sum >= 1
    })
  })
}
