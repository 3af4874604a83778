import { canonical } from '@musterbook/evidence/canonical'
import type { Entry, StreamName } from '@musterbook/ledger/ledger'

/** What one client saw of one command: when it asked for the first time, and what it was told in the end. Times are of one clock for all. */
export interface Told {
  readonly stream: StreamName
  readonly commandId: string
  readonly askedAt: number
  /** Absent: it never heard, so the command may stand in the stream or not. */
  readonly acknowledged?: Acknowledged
  /** The answer was a no, which stands in the stream as well. */
  readonly refused?: true
}

/** What the answer named. A ledger names the hash of the entry, a house over HTTP the events in it; a refusal names neither. */
interface Acknowledged {
  readonly at: number
  readonly version: number
  readonly hash?: string
  readonly events?: readonly unknown[]
}

/** What one reader was given of one stream, in that order. */
export interface Seen {
  readonly stream: StreamName
  readonly hashes: readonly string[]
}

/** What a house tells itself: readings of the site and holds of other days, by commands that no client asked for. */
const ofTheHouse: ReadonlySet<string> = new Set(['receiveReading', 'takeOverHold'])

/**
 * Compares what clients and readers saw with what stands in the streams at the end, and says every broken promise in a sentence: an acknowledged
 * command that is lost, doubled or changed; an entry that nobody asked for; versions that are not 1, 2, 3…; two acknowledged commands in another
 * order than they happened; a reader who saw something that was never so.
 */
export function historyFaults(
  told: readonly Told[],
  streams: ReadonlyMap<StreamName, readonly Entry[]>,
  seen: readonly Seen[] = [],
): string[] {
  // A stream that is gone altogether is asked for as well.
  const names = new Set([...streams.keys(), ...told.map(({ stream }) => stream)])
  return [...names].flatMap((stream) => {
    const entries = streams.get(stream) ?? []
    const here = told.filter((each) => each.stream === stream)
    return [
      ...numberingFaults(stream, entries),
      ...presenceFaults(here, entries),
      ...orderFaults(here),
      ...seen.filter((each) => each.stream === stream).flatMap((each) => prefixFaults(each, entries)),
    ]
  })
}

/** How many acknowledged commands stand nowhere, and how many commands stand more than once. */
export function lostAndDoubled(told: readonly Told[], streams: ReadonlyMap<StreamName, readonly Entry[]>) {
  const counts = [...streams.values()].map(timesOf)
  const stands = new Set(counts.flatMap((times) => [...times.keys()]))
  return {
    lost: told.filter(({ acknowledged, commandId }) => acknowledged && !stands.has(commandId)).length,
    doubled: counts.flatMap((times) => [...times.values()]).filter((times) => times > 1).length,
  }
}

function numberingFaults(stream: StreamName, entries: readonly Entry[]): string[] {
  return entries.flatMap((entry, index) =>
    entry.version === index + 1 ? [] : [`${stream} holds ${entry.version} where ${index + 1} belongs`],
  )
}

function presenceFaults(told: readonly Told[], entries: readonly Entry[]): string[] {
  const asked = new Map(told.map((each) => [each.commandId, each]))
  const unasked = entries
    .filter(({ meta }) => !asked.has(meta.commandId) && !ofTheHouse.has(meta.command))
    .map(({ meta }) => `nobody asked for ${meta.commandId}`)
  const doubled = [...timesOf(entries)]
    .filter(([, times]) => times > 1)
    .map(([commandId, times]) => `${commandId} stands there ${times} times`)
  const lost = told.flatMap(({ commandId, acknowledged }) => {
    if (!acknowledged) return []
    const entry = entries[acknowledged.version - 1]
    if (entry?.meta.commandId !== commandId) return [`${commandId} was acknowledged as ${acknowledged.version} and is not there`]
    return isAsTold(acknowledged, entry) ? [] : [`${commandId} is there changed`]
  })
  return [...unasked, ...doubled, ...lost]
}

function isAsTold({ hash, events }: Acknowledged, entry: Entry): boolean {
  return (hash === undefined || hash === entry.hash) && (events === undefined || canonical(events) === canonical(entry.events))
}

function timesOf(entries: readonly Entry[]): Map<string, number> {
  const times = new Map<string, number>()
  for (const { meta } of entries) times.set(meta.commandId, (times.get(meta.commandId) ?? 0) + 1)
  return times
}

/** If one command was acknowledged before another was asked for, it stands before it. */
function orderFaults(told: readonly Told[]): string[] {
  const done = told.filter((each) => each.acknowledged).sort((one, other) => one.acknowledged!.at - other.acknowledged!.at)
  const later = [...done].sort((one, other) => one.askedAt - other.askedAt)
  const faults: string[] = []
  let highest: Told | undefined
  let next = 0
  for (const each of later) {
    for (; next < done.length && done[next]!.acknowledged!.at < each.askedAt; next++) {
      if (done[next]!.acknowledged!.version > (highest?.acknowledged!.version ?? 0)) highest = done[next]
    }
    if (highest && each.acknowledged!.version < highest.acknowledged!.version) {
      faults.push(`${each.commandId} was asked for after ${highest.commandId} was acknowledged, and stands before it`)
    }
  }
  return faults
}

function prefixFaults({ stream, hashes }: Seen, entries: readonly Entry[]): string[] {
  const wrong = hashes.findIndex((hash, index) => entries[index]?.hash !== hash)
  return wrong === -1 ? [] : [`a reader of ${stream} was given as entry ${wrong + 1} what is not there`]
}
