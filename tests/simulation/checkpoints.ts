import { emptyDay, type Day } from '@musterbook/day/day'
import { evolve } from '@musterbook/day/evolve'
import { dayViews } from '@musterbook/day/views'
import { recordView } from '@musterbook/day/views/record'
import { canonical } from '@musterbook/evidence/canonical'
import { chainFault } from '@musterbook/evidence/chain'
import type { Entry, Ledger } from '@musterbook/ledger/ledger'
import { openProjections } from '@musterbook/projections/projections'
import { rowsOf, type Kept as KeptRow } from '@musterbook/projections/rows'
import type { Seen } from '../faults/history.ts'
import type { History } from './history.ts'
import { restingFlaws, type Broken } from './promises.ts'
import type { DayRecord } from './record.ts'

type KeptRows = Map<string, Map<string, KeptRow>>

/** What is carried from one look to the next. */
export interface Kept {
  readonly rows: KeptRows
  fresh: Day | undefined
}

/**
 * S7, S10 and S11, as whoever opens the ledger at this moment finds it: after a crash, at the seal and at the end. What
 * was acknowledged stands there once and unchanged, the sealed stream is what it was, and a fold on a fresh instance,
 * from the text of the entries, gives the same records and rows.
 */
export async function checkpoint(
  why: string,
  truth: Ledger,
  record: DayRecord,
  history: History,
  seen: readonly Seen[],
  kept: Kept,
): Promise<Broken[]> {
  const streams = new Map<string, Entry[]>()
  for (const prefix of ['day/', 'after/', 'site/']) {
    for (const { stream } of await truth.streams(prefix)) streams.set(stream, await collect(truth.read(stream, 0)))
  }
  const entries = ['day/', 'after/'].flatMap((prefix) => [...streams].flatMap(([stream, each]) => (stream.startsWith(prefix) ? each : [])))
  const told = (promise: string) => (says: string) => ({ promise, says: `${says} (${why})` })
  return [
    ...history.faults(streams, seen).map(told('S7')),
    ...changedEntries([...streams.values()].flat(), record, why === 'end').map(told('S7')),
    ...(await sealFaults(truth, streams, record, why)).map(told('S10')),
    ...foldFaults(entries, record, kept, why).map(told('S11')),
    ...restingFlaws(record.facts, record.day).map(told('S8')),
  ]
}

/**
 * As it was when it was appended, byte for byte. At the end each hash is worked out again from what stands there: of the
 * site's entries here, of the day's by the projections.
 */
function changedEntries(entries: readonly Entry[], record: DayRecord, isThorough: boolean): string[] {
  const before = new Map<string, Entry>()
  return entries.flatMap((entry) => {
    const was = record.made.get(entry.meta.commandId)
    const isSame = was === entry || (was !== undefined && canonical(was) === canonical(entry))
    const fault = isThorough && entry.stream.startsWith('site/') ? chainFault(before.get(entry.stream), entry) : undefined
    before.set(entry.stream, entry)
    return [...(isSame ? [] : [`entry ${entry.version} of ${entry.stream} is not what was appended`]), ...(fault ? [fault] : [])]
  })
}

async function sealFaults(
  truth: Ledger,
  streams: ReadonlyMap<string, readonly Entry[]>,
  { facts, day }: DayRecord,
  why: string,
): Promise<string[]> {
  const { sealed } = facts
  if (!sealed) return []
  const stream = `day/${day.dayId}`
  const head = await truth.head(stream)
  const last = streams.get(stream)?.at(-1)
  return [
    ...(head.version === sealed.version && head.hash === sealed.hash
      ? []
      : [`${stream} was sealed at ${sealed.version} and stands at ${head.version}`]),
    ...(last?.version === sealed.version && last.hash === sealed.hash ? [] : [`${stream} does not end where it was sealed`]),
    ...(why === 'crash' || head.sealed ? [] : [`${stream} is not closed behind its seal`]),
  ]
}

/** At a crash the records alone are drawn: every other view is held against the read models at the end. */
function foldFaults(entries: readonly Entry[], record: DayRecord, kept: Kept, why: string): string[] {
  const live = record.day
  const fresh = foldText(entries, kept.fresh)
  kept.fresh = fresh
  const views = why === 'crash' ? { record: dayViews.record } : dayViews
  for (const [name, view] of Object.entries(views)) kept.rows.set(name, rowsOf(view, live, kept.rows.get(name)))
  const records = [...live.students.keys()].map((studentId) => kept.rows.get('record')?.get(studentId)?.text)
  return recordsOf(fresh) === `[${records.join(',')}]` ? [] : [difference(fresh, live)]
}

/**
 * The real read models, opened on the ledger as it stands at the end: a fold from the first entry on an instance of its own.
 * Every row is what was kept from one look to the next.
 */
export async function projectionFaults(truth: Ledger, dayId: string, { rows }: Kept): Promise<string[]> {
  const projections = openProjections({ ledger: truth, file: ':memory:', views: dayViews })
  try {
    await projections.ready
    const faults = projections.lags().flatMap(({ stopped }) => (stopped ? [`the projections stopped: ${stopped}`] : []))
    for (const [view, each] of rows) {
      for (const [key, { text }] of each) {
        const row = await projections.get(dayId, view, key)
        const isSame = JSON.stringify(row?.body) === text || canonical(row?.body ?? null) === canonical(JSON.parse(text))
        if (!isSame) faults.push(`the projections show another ${view} ${key} than the fold`)
      }
    }
    return faults
  } finally {
    await projections.close()
  }
}

/** As another process would read it: from the text of the entries, nothing shared with the fold that goes along. */
function foldText(entries: readonly Entry[], before: Day | undefined): Day {
  const dayId = entries[0]?.stream.slice('day/'.length) ?? 'none'
  const day = before ?? emptyDay(dayId as never)
  const more = entries.filter(({ stream, version }) => version > (stream.startsWith('after/') ? day.afterVersion : day.version))
  return (JSON.parse(JSON.stringify(more)) as Entry[]).reduce<Day>((then, entry) => evolve(then, entry as never), day)
}

export const recordsOf = (day: Day): string => JSON.stringify([...day.students.keys()].map((studentId) => recordView(day, studentId)))

function difference(fresh: Day, live: Day): string {
  const who = [...live.students.keys()].find((id) => JSON.stringify(recordView(fresh, id)) !== JSON.stringify(recordView(live, id)))
  return `the record of ${who ?? 'nobody'} is another when the day is folded anew`
}

async function collect(entries: AsyncIterable<Entry>): Promise<Entry[]> {
  const all: Entry[] = []
  for await (const entry of entries) all.push(entry)
  return all
}
