import { dayViews } from '@musterbook/day/views'
import { foldOn, placeOf, unread } from '@musterbook/projections/folded-day'
import type { DayViews } from '@musterbook/projections/rows'
import { openStore } from '@musterbook/projections/store'
import type { Entry, LedgerReader } from '@musterbook/ledger/ledger'
import { verify } from '@musterbook/ledger/verify'
import { startsUnderHold } from '../cluster/record.ts'
import type { BusyFloor, Shown } from './busy-floor.ts'
import { everything } from './clients.ts'
import { type Findings, note } from './findings.ts'
import { historyFaults, type Told } from './history.ts'

interface Judged {
  dayId: string
  reader: LedgerReader
  /** The file of the read models, its process ended. */
  views: string
  floor: BusyFloor
  /** What stood there before the floor began. */
  before: readonly Entry[]
  rounds: number
}

/** Holds a house against everything that its floor was told and shown, once it has ended. */
export async function judge(findings: Findings, { dayId, reader, views, floor, before, rounds }: Judged): Promise<void> {
  const stream = `day/${dayId}`
  const earlier = before.map(({ meta }): Told => ({ stream, commandId: meta.commandId, askedAt: 0 }))
  const told = [...floor.heard.values()]
  const entries = (await everything(reader)).get(stream) ?? []
  const streams = new Map([[stream, entries]])
  findings.faults.push(
    ...(await verify(reader)).faults,
    ...historyFaults([...earlier, ...told], streams),
    ...startsUnderHold(entries).map(({ version }) => `entry ${version} is a start outdoors under a hold that stood in the record`),
    ...shownFaults(dayId, entries, floor.shown),
    ...rowFaults(dayId, entries, views),
  )
  note(findings, { rounds, told, streams })
}

/** What a screen showed at a version is what the first so many entries make, and it never went back. */
export function shownFaults(dayId: string, entries: readonly Entry[], shown: readonly Shown[]): string[] {
  const views: DayViews = dayViews
  const at = new Map<number, string>()
  let folded = unread(dayId)
  const wanted = new Set(shown.map(({ version }) => version))
  for (const entry of entries) {
    folded = foldOn(folded, entry)
    if (wanted.has(placeOf(folded))) at.set(placeOf(folded), JSON.stringify(views['safety']!.of(folded.day, 'all')))
  }
  return shown.flatMap(({ version, body }, index) => [
    ...(at.get(version) === JSON.stringify(body) ? [] : [`the safety screen showed at ${version} what was never so`]),
    ...(version >= (shown[index - 1]?.version ?? 0) ? [] : [`the safety screen went back to ${version}`]),
  ])
}

/** Every row of the read models is what the fold of the whole day makes, and none is missing. */
export function rowFaults(dayId: string, entries: readonly Entry[], file: string): string[] {
  const { day } = entries.reduce(foldOn, unread(dayId))
  const store = openStore(file)
  const rows = new Map(store.rowsOf(dayId).map(({ projection, key, body }) => [`${projection} ${key}`, body]))
  store.close()
  const views: DayViews = dayViews
  const made = Object.entries(views).flatMap(([name, view]) =>
    view.keys(day).map((key) => [`${name} ${key}`, JSON.stringify(view.of(day, key))] as const),
  )
  const wrong = made.filter(([name, body]) => rows.get(name) !== body).map(([name]) => `the row ${name} is not what the day folds to`)
  return rows.size === made.length ? wrong : [...wrong, `there are ${rows.size} rows of the day, and ${made.length} are due`]
}
