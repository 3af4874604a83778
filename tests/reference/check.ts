/** One published number to meet: what goes in, what must come out, how near, and who printed it. */
export interface Check {
  id: string
  quantity: string
  inputs: Record<string, unknown>
  /** A plain value, a list or record of them, or `{ value, unit }`. */
  expected: unknown
  /** Absolute, in the unit of what is expected; `exact` allows no difference. */
  tolerance: number | 'exact'
  source: string
  note?: string
}

/** Computes what one quantity's checks ask for, with the packages' own public functions. */
export type Quantities = Record<string, (inputs: Record<string, unknown>, check: Check) => unknown>

/** A column of a data set, cut to one group, and the quantile that was published for it. */
interface QuantileItem {
  dataset: string
  column: string
  sex?: string | null
  ageFrom?: number | null
  ageTo?: number | null
  n?: number | null
  quantile: number
  value: number
}

/** The second form of file: one method and one tolerance for many quantiles. */
interface QuantileFile {
  method?: string
  tolerance: number
  items: QuantileItem[]
}

/**
 * Reads either form of file. A quantile item becomes a check over the rows that it names, of which there must be as
 * many as its publisher counted.
 *
 * @param rowsOf gives a data set by its file name, as records of text
 */
export function checksOf(file: unknown, rowsOf: (dataset: string) => Record<string, string>[]): Check[] {
  if (Array.isArray(file)) return file as Check[]
  const { items, tolerance, method } = file as QuantileFile
  if (!Array.isArray(items)) throw new Error('neither a list of checks nor a record with items')
  return items.map((item) => quantileCheck(item, tolerance, method ?? 'type 7', rowsOf(item.dataset)))
}

function quantileCheck(item: QuantileItem, tolerance: number, method: string, rows: Record<string, string>[]): Check {
  const group = rows.filter((row) => belongs(row, item))
  const values = group.map((row) => cell(row, item.column)).filter((value) => value !== undefined)
  return {
    id: [item.dataset, item.column, item.sex, item.ageFrom, item.ageTo, item.quantile].filter((part) => part != null).join(' '),
    quantity: 'dataset.quantile',
    inputs: { values, p: item.quantile, ...(item.n != null && { rowsCounted: item.n }) },
    expected: item.value,
    tolerance,
    source: `${item.dataset}: ${method}`,
  }
}

function belongs(row: Record<string, string>, item: QuantileItem): boolean {
  if (item.sex != null && row['sex']?.toLowerCase() !== item.sex.toLowerCase()) return false
  if (item.ageFrom == null && item.ageTo == null) return true
  const age = cell(row, 'age_years')
  return age !== undefined && age >= (item.ageFrom ?? 0) && age <= (item.ageTo ?? Infinity)
}

/** A number as the column holds it; an empty cell, or one that says there is none, is no value. */
function cell(row: Record<string, string>, column: string): number | undefined {
  const text = row[column]
  if (text === undefined) throw new Error(`no column ${column}`)
  const value = Number(text)
  return text.trim() === '' || Number.isNaN(value) ? undefined : value
}
