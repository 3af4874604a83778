import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setFlagsFromString } from 'node:v8'
import { runInNewContext } from 'node:vm'
import { dayId, drive, expected, mira, opened, ready, studentId, tells } from '@musterbook/day/controls'
import { emptyDay, type Day } from '@musterbook/day/day'
import { evolve, type DayEntry } from '@musterbook/day/evolve'
import { dayViews } from '@musterbook/day/views'
import type { Draft, Ledger } from '@musterbook/ledger/ledger'
import { sqliteLedger } from '@musterbook/ledger/sqlite'
import { verify } from '@musterbook/ledger/verify'
import { Scrubber } from '@musterbook/replay/moments'
import { openProjections } from '@musterbook/projections/projections'
import { DayFile } from '@musterbook/testday/day-file'
import type { Figure } from './figures.ts'
import { wholeDay } from './fold.ts'

const entries = 100_000
const moment = 50_000
const bibs = Array.from({ length: 20 }, (_, index) => String(101 + index))

/** A day of twenty students who queue and leave a hundred thousand times: what its length costs whoever opens it, checks it and steps back in it. */
export async function largeDay(progress: (what: string) => void): Promise<Figure[]> {
  const folder = mkdtempSync(join(tmpdir(), 'bench-'))
  const ledger = sqliteLedger({ file: join(folder, 'ledger.sqlite') })
  try {
    progress(`a day of ${entries} entries is made`)
    await fill(ledger)
    progress('opened, folded, verified, stepped back in')
    const [openMs] = await timed(() => new DayFile(dayId, ledger).readOn())
    const [verifyMs] = await timed(() => verify(ledger))
    const [readMs, projections] = await timed(async () => {
      const made = openProjections({ ledger, file: join(folder, 'views.sqlite'), views: dayViews })
      await made.ready
      return made
    })
    const recorded = await projections.entriesOf(dayId, 0, entries)
    const scrubber = new Scrubber(dayId, recorded as never)
    const board = async (at: number) => dayViews.board.of(scrubber.at(at), 'all')
    const [firstMs] = await timed(() => board(moment))
    const [nextMs] = await timed(() => board(moment - 1))
    await projections.close()
    return [
      { what: `open a day of ${entries} entries to take commands: read, parsed, folded`, value: openMs, unit: 'ms' },
      { what: 'verify its chain', value: verifyMs, unit: 'ms' },
      { what: 'build its views from the first entry, the chain checked', value: readMs, unit: 'ms' },
      { what: `its board as it stood at ${moment}, asked for the first time`, value: firstMs, unit: 'ms' },
      { what: 'one step back from there', value: nextMs, unit: 'ms' },
      ...memory(),
    ]
  } finally {
    await ledger.close()
    rmSync(folder, { recursive: true })
  }
}

async function fill(ledger: Ledger): Promise<void> {
  const driven = drive()
  for (const step of [opened(bibs.map((bib) => expected(bib))), ready(...bibs)]) step(driven)
  for (let version = driven.entries.length, number = 0; version < entries; version++, number++) {
    const act = number % 2 === 0 ? 'joinQueue' : 'leaveQueue'
    tells(act, mira, { studentId: studentId(bibs[(number >> 1) % bibs.length]!), stationId: 'agility' })(driven)
  }
  const drafts = driven.entries.map(draftOf)
  for (let from = 0; from < drafts.length; from += 500) {
    await Promise.all(drafts.slice(from, from + 500).map((draft, index) => ledger.append(`day/${dayId}`, from + index, draft)))
  }
}

const draftOf = ({ meta, recordedAt, events }: DayEntry): Draft => ({
  meta: { ...meta, command: 'act', bodyDigest: '0'.repeat(64), seenVersion: 0 },
  recordedAt,
  events,
})

/** A folded day alone, and with the entries that it was folded from; a busy day of forty students. */
function memory(): Figure[] {
  const days = 10
  const told = wholeDay()
  const copies = Array.from({ length: days }, () => JSON.parse(JSON.stringify(told)) as DayEntry[])
  setFlagsFromString('--expose-gc')
  const collect = runInNewContext('gc') as () => void
  const heap = () => {
    collect()
    return process.memoryUsage().heapUsed
  }
  const before = heap()
  const folded = copies.map((copy) => copy.reduce<Day>((day, entry) => evolve(day, entry), emptyDay(dayId)))
  const bytes = (heap() - before) / folded.length
  return [{ what: `memory of one open day of forty students, ${told.length} entries, beside the entries`, value: bytes / 1e6, unit: 'MB' }]
}

async function timed<T>(work: () => Promise<T>): Promise<[milliseconds: number, result: T]> {
  const start = performance.now()
  const result = await work()
  return [performance.now() - start, result]
}
