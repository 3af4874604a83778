import { withoutGuard } from '@musterbook/vocabulary/csv'
import { parse } from 'csv-parse/sync'

export type Delimiter = ',' | ';' | '\t' | '|'
export interface TableRow {
  /** Line of the file on which it begins, from 1. */
  line: number
  /** Undefined: the line cannot be taken apart, and only this line is lost. */
  cells: string[] | undefined
}
export interface Table {
  delimiter: Delimiter
  header: string[]
  rows: TableRow[]
}

const delimiters: readonly Delimiter[] = [',', ';', '\t', '|']
/** Past so many broken lines it is no table: reading on costs more than it finds. */
const mostBroken = 200

/** Rows of a text with separators, the first that is not empty being the header. Undefined: there is no such row, or too much is broken. */
export function readTable(text: string, declared?: Delimiter): Table | undefined {
  const firstLine = text.split('\n').find((line) => line.trim() !== '') ?? ''
  const delimiter = declared ?? likeliest(firstLine)
  const rows: TableRow[] = []
  let header: string[] | undefined
  let line = 1
  let broken = 0
  let rest = text
  while (rest !== '') {
    const { records, read, failed } = readRecords(rest, delimiter, header?.length)
    for (const { cells, from } of records) {
      if (header) rows.push({ line: line + from, cells })
      else header = cells
    }
    const lines = rest.split('\n')
    if (!failed) break
    // The line on which the reader stumbled, by itself: a stray quote in it must not swallow the good rows after it.
    const alone = readAlone(lines[read] ?? '', delimiter, header?.length)
    if (header) rows.push({ line: line + read, cells: alone })
    else if (alone) header = alone
    if (!alone && ++broken > mostBroken) return undefined
    rest = lines.slice(read + 1).join('\n')
    line += read + 1
  }
  return header && { delimiter, header, rows }
}

interface Read {
  records: { cells: string[]; from: number }[]
  /** Lines that the good records take up. */
  read: number
  failed: boolean
}

/** Reads until the first record that does not fit. A record over several lines may be a stray quote. */
function readRecords(text: string, delimiter: Delimiter, width: number | undefined): Read {
  const records: Read['records'] = []
  let read = 0
  let wide = width
  try {
    parse(text, {
      delimiter,
      relax_column_count: true,
      trim: true,
      record_delimiter: '\n',
      on_record: (record: string[], { lines }) => {
        if (wide !== undefined && lines - read > 1 && swallowed(record, delimiter, wide)) throw new Error('a quote was left open')
        if (record.some((cell) => cell !== '')) {
          records.push({ cells: record.map(withoutGuard), from: read })
          wide ??= record.length
        }
        read = lines
        return null
      },
    })
    return { records, read, failed: false }
  } catch {
    return { records, read, failed: true }
  }
}

/** Did a quote take in what follows it: another number of cells than the header's, or one cell with separators enough for a row of its own? */
const swallowed = (record: readonly string[], delimiter: Delimiter, width: number): boolean =>
  record.length !== width || record.some((cell) => cell.includes('\n') && cell.split(delimiter).length > Math.max(3, width - 2))

function readAlone(line: string, delimiter: Delimiter, width: number | undefined): string[] | undefined {
  try {
    const [cells] = parse(line, { delimiter, relax_column_count: true, relax_quotes: true, trim: true }) as string[][]
    return cells && (width === undefined || cells.length === width) ? cells.map(withoutGuard) : undefined
  } catch {
    return undefined
  }
}

/** The separator that stands most often in the header outside quotes. */
function likeliest(header: string): Delimiter {
  const bare = header.replace(/"[^"]*"/g, '')
  const count = (delimiter: Delimiter) => bare.split(delimiter).length - 1
  return delimiters.reduce((best, next) => (count(next) > count(best) ? next : best))
}
