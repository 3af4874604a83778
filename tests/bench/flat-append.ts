import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Ledger } from '@musterbook/ledger/ledger'
import { sqliteLedger } from '@musterbook/ledger/sqlite'
import { kilobyte } from './drafts.ts'
import type { Contest } from './measure.ts'

const short = 100
const long = short * 1_000
const pieces = 25

/** The append half of `flatCost`: what one append costs when the day already has a thousand times more entries. */
export const flatAppend: Contest = {
  name: 'flatAppend',
  what: `cost of one durable append to a day of ${long} entries`,
  against: `the same to a day of ${short} entries`,
  aim: 1.3,
  better: 'lower',
  unit: 'ms',
  turns: 20,
  open: async () => {
    const folder = mkdtempSync(join(tmpdir(), 'bench-'))
    const days = await Promise.all([grown(join(folder, 'long.sqlite'), long), grown(join(folder, 'short.sqlite'), short)])
    return {
      ours: () => appendTo(days[0]),
      raw: () => appendTo(days[1]),
      close: async () => {
        await Promise.all(days.map((day) => day.ledger.close()))
        rmSync(folder, { recursive: true })
      },
    }
  },
}

interface Day {
  readonly ledger: Ledger
  version: number
}

async function grown(file: string, entries: number): Promise<Day> {
  const day = { ledger: sqliteLedger({ file }), version: 0 }
  for (; day.version < entries; day.version += 100) {
    const from = day.version
    await Promise.all(Array.from({ length: 100 }, (_, index) => day.ledger.append('day/1', from + index, kilobyte(`c${from + index}`))))
  }
  return day
}

async function appendTo(day: Day): Promise<number> {
  for (const end = day.version + pieces; day.version < end; day.version++)
    await day.ledger.append('day/1', day.version, kilobyte(`c${day.version}`))
  return pieces
}
