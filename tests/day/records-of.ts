import { readFileSync } from 'node:fs'
import { emptyDay } from '@musterbook/day/day'
import { evolve, type DayEntry } from '@musterbook/day/evolve'
import { dayViews } from '@musterbook/day/views'

/** Every record of a day and its board, as one text. */
export function recordsOf(entries: readonly DayEntry[]): string {
  const day = entries.reduce(evolve, emptyDay('d' as never))
  const { record, board, station } = dayViews
  return JSON.stringify([record, board, station].map((view) => view.keys(day).map((key) => view.of(day, key))))
}

const [file] = process.argv.slice(2)
if (file?.endsWith('entries.json')) {
  const days = JSON.parse(readFileSync(file, 'utf8')) as DayEntry[][]
  process.stdout.write(days.map(recordsOf).join('\n'))
}
