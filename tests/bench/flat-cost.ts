import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Ledger } from '@musterbook/ledger/ledger'
import { sqliteLedger } from '@musterbook/ledger/sqlite'
import { kilobyte } from './drafts.ts'
import { dayId, expected, mira, opened, drive, ready, studentId, tells, type Drive } from '@musterbook/day/controls'
import { boardView } from '@musterbook/day/views/board'
import { stationView } from '@musterbook/day/views/station'
import { evolve } from '@musterbook/day/evolve'
import { emptyDay } from '@musterbook/day/day'
import type { Contest, Worst } from './measure.ts'

const short = 100
const long = short * 1_000
const pieces = 25

/** What one append costs when the day already has a thousand times more entries. */
const flatAppend: Contest = {
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

interface GrownDay {
  readonly ledger: Ledger
  version: number
}

export async function grown(file: string, entries: number): Promise<GrownDay> {
  const day = { ledger: sqliteLedger({ file }), version: 0 }
  for (; day.version < entries; day.version += 100) {
    const from = day.version
    await Promise.all(Array.from({ length: 100 }, (_, index) => day.ledger.append('day/1', from + index, kilobyte(`c${from + index}`))))
  }
  return day
}

export async function appendTo(day: GrownDay): Promise<number> {
  for (const end = day.version + pieces; day.version < end; day.version++)
    await day.ledger.append('day/1', day.version, kilobyte(`c${day.version}`))
  return pieces
}

/** What it costs to fold one more entry and make the screens' views of the day, of as many students with a thousand times more behind them. */
const flatView: Contest = {
  name: 'flatView',
  what: `cost of one entry folded and two views made of a day of ${long} entries`,
  against: `the same of a day of ${short} entries`,
  aim: 1.3,
  better: 'lower',
  unit: 'ms',
  turns: 20,
  open: async () => {
    const days = [queueing(long), queueing(short)] as const
    return { ours: async () => viewed(days[0]), raw: async () => viewed(days[1]), close: async () => {} }
  },
}

const bibs = Array.from({ length: 20 }, (_, index) => String(101 + index))

/** Twenty students who queue and leave: the record grows, the day does not. */
export function queueing(entries: number): Drive {
  const driven = drive(emptyDay(dayId))
  for (const step of [opened(bibs.map((bib) => expected(bib))), ready(...bibs)]) step(driven)
  const [joined, left] = (['joinQueue', 'leaveQueue'] as const).map((act) => {
    tells(act, mira, { studentId: studentId('101'), stationId: 'agility' })(driven)
    return driven.entries.at(-1)!
  })
  let { day } = driven
  for (let version = day.version; version < entries; version++)
    day = evolve(day, { ...(version % 2 ? left! : joined!), version: version + 1 })
  return drive(day)
}

export function viewed(driven: Drive): number {
  for (let count = 0; count < pieces; count++) {
    tells(count % 2 ? 'leaveQueue' : 'joinQueue', mira, { studentId: studentId('102'), stationId: 'agility' })(driven)
    stationView(driven.day, 'agility' as never)
    boardView(driven.day)
  }
  return pieces
}

export const flatCost: Worst = {
  name: 'flatCost',
  what: `one append, and one view, with 1,000 times more history; the worse of the two`,
  of: [flatAppend, flatView],
}
