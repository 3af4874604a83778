import { evolve } from '@musterbook/day/evolve'
import type { Day } from '@musterbook/day/day'
import { ranMeanwhile, raisesHold } from '@musterbook/day/hold/raise-hold'
import type { Draft, Entry, LedgerReader, Meta } from '@musterbook/ledger/ledger'
import { happenedAt } from '@musterbook/vocabulary/envelope'
import type { DayEvent, DayEventOf } from '@musterbook/vocabulary/events'
import type { ZoneId } from '@musterbook/vocabulary/ids'
import { SiteEvent } from '@musterbook/vocabulary/site'

/** Far enough back for the newest reading of each zone: more than two days of one reading every ten minutes. */
const lookBack = 300

type ReadingTaken = Extract<SiteEvent, { type: 'readingTaken' }>
type HoldCalledFor = Extract<SiteEvent, { type: 'holdCalledFor' }>

/** The reading of one site entry and the hold that it calls for. */
interface Heard {
  readonly reading: DayEventOf<'readingReceived'>
  readonly calls: HoldCalledFor | undefined
}

/**
 * The draft that puts one entry of the site into force in this day. Its command id follows from the entry's number, so that
 * two processes, or one that starts again, tell the day the same command.
 */
export function draftOfSiteEntry(day: Day, entry: Entry, recordedAt: number): Draft {
  const meta: Meta = {
    ...entry.meta,
    commandId: `site-entry-${entry.version}`,
    command: 'receiveReading',
    bodyDigest: entry.hash,
    seenVersion: 0,
  }
  return { meta, recordedAt, events: inForce(day, readingsOf([entry]), { meta, recordedAt }) }
}

/**
 * What an opening day takes over of its site: the newest reading of each zone, and the hold that it called for where it was
 * read on the day itself. Yesterday's heat is shown with its age and holds nobody.
 */
export async function takenOverReadings(day: Day, ledger: LedgerReader, written: Pick<Draft, 'meta' | 'recordedAt'>): Promise<DayEvent[]> {
  const stream = `site/${day.opened?.facts.siteId}`
  const { version } = await ledger.head(stream)
  const newest = new Map<string, Heard>()
  for await (const entry of ledger.read(stream, Math.max(0, version - lookBack))) {
    for (const heard of readingsOf([entry])) newest.set(heard.reading.zoneId, heard)
  }
  const inOrder = [...newest.values()].sort((one, other) => one.reading.siteVersion - other.reading.siteVersion)
  return inForce(
    day,
    inOrder.map((heard) => (isOfThisDate(day, heard.reading) ? heard : { ...heard, calls: undefined })),
    written,
  )
}

/** Events for these readings, and for the holds they call for where none of heat stands over the place already. */
function inForce(day: Day, heard: readonly Heard[], written: Pick<Draft, 'meta' | 'recordedAt'>): DayEvent[] {
  const events: DayEvent[] = []
  let ahead = day
  const add = (more: readonly DayEvent[]) => {
    events.push(...more)
    ahead = withMore(ahead, more, written)
  }
  for (const { reading, calls } of heard) {
    add([reading])
    const zoneId = calls ? scopeOf(ahead, calls) : null
    if (calls && !heatHoldOver(ahead, zoneId)) add(holdFor(ahead, calls, zoneId, written.meta))
  }
  return events
}

/** The day as it will stand once these events are in it, for what is decided beside them in the same entry. */
export function withMore(day: Day, events: readonly DayEvent[], { meta, recordedAt }: Pick<Draft, 'meta' | 'recordedAt'>): Day {
  return evolve(day, { stream: `day/${day.dayId}`, version: day.version + 1, meta, recordedAt, events })
}

const isOfThisDate = ({ opened }: Day, { readAt }: Heard['reading']) =>
  opened !== null && new Date(readAt + opened.facts.utcOffsetMinutes * 60_000).toISOString().startsWith(opened.facts.date)

/** One reading outdoors speaks for every outdoor zone, as it does for the age of readings; one indoors for its own zone only. */
const scopeOf = (day: Day, { zoneId }: HoldCalledFor): ZoneId | null =>
  zoneId && day.opened?.rules.zones.some((zone) => zone.zoneId === zoneId && !zone.outdoor) ? zoneId : null

const heatHoldOver = (day: Day, zoneId: ZoneId | null) =>
  [...day.holds.values()].some((hold) => !hold.lifted && hold.kind === 'heat' && (hold.zoneId === null || hold.zoneId === zoneId))

/** A reading that arrives late calls for a hold from when it was read: what ended since then waits for a ruling. */
function holdFor(day: Day, { holdId, readingId }: HoldCalledFor, zoneId: ZoneId | null, told: Meta): DayEvent[] {
  const raised = raisesHold(day, { holdId, kind: 'heat', zoneId, raisedBy: 'policy', readingId, times: told })
  return [raised, ...ranMeanwhile(day, raised, told)]
}

function readingsOf(entries: readonly Entry[]): Heard[] {
  return entries.flatMap((entry) => {
    const events = entry.events.map((event) => SiteEvent.parse(event))
    const calls = events.find((event) => event.type === 'holdCalledFor')
    return events
      .filter((event) => event.type === 'readingTaken')
      .map((event) => ({ reading: received(event, entry), calls: calls?.readingId === event.readingId ? calls : undefined }))
  })
}

/** The day's own copy of a reading: figures as the site's entry holds them. */
const received = (taken: ReadingTaken, entry: Entry): DayEventOf<'readingReceived'> => ({
  type: 'readingReceived',
  readingId: taken.readingId,
  zoneId: taken.zoneId,
  instrumentId: taken.instrumentId,
  readBy: taken.readBy,
  wbgtTenths: taken.wbgtTenths,
  unit: taken.unit,
  band: taken.band,
  settled: taken.settled,
  ...(taken.settled && taken.confirmed.includes('settledEarly') && { saidSettledEarly: true }),
  usable: taken.usable,
  method: taken.method,
  wetBulbKind: taken.wetBulbKind,
  siteVersion: entry.version,
  readAt: happenedAt(entry.meta),
  bandMs: entry.meta.bandMs,
})
