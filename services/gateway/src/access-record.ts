import { createHash } from 'node:crypto'
import type { Ledger } from '@musterbook/ledger/ledger'
import { AccessEvent, type AccessLog } from '@musterbook/vocabulary/access'
import type { SiteId } from '@musterbook/vocabulary/ids'

export interface AccessEntry {
  version: number
  recordedAt: number
  event: AccessEvent
}

export interface AccessRecord {
  /** Resolves when it is in the record: whoever opens something waits for it. */
  tell: AccessLog
  read(): Promise<AccessEntry[]>
}

/** Appends to `access/<siteId>`, of which the gateway is the only writer: one at a time, each under an id of its own. */
export function accessRecord(
  ledger: Ledger,
  { siteId, clock, newId }: { siteId: () => Promise<SiteId | null>; clock: () => number; newId: () => string },
): AccessRecord {
  let queue: Promise<unknown> = Promise.resolve()

  const append = async (event: AccessEvent) => {
    const stream = `access/${(await siteId()) ?? 'none'}`
    const draft = { meta: metaOf(event, newId(), clock()), recordedAt: clock(), events: [AccessEvent.parse(event)] }
    for (;;) {
      const { version } = await ledger.head(stream)
      const answer = await ledger.append(stream, version, draft)
      if ('appended' in answer) return
      if (!('lostRace' in answer)) throw new Error(`${stream} took no entry`)
    }
  }

  return {
    tell(event) {
      const told = queue.then(() => append(event))
      queue = told.catch(() => {})
      return told
    },
    async read() {
      const entries: AccessEntry[] = []
      for await (const { version, recordedAt, events } of ledger.read(`access/${(await siteId()) ?? 'none'}`, 0))
        entries.push(...events.map((event) => ({ version, recordedAt, event: AccessEvent.parse(event) })))
      return entries
    },
  }
}

const metaOf = (event: AccessEvent, commandId: string, occurredAt: number) => ({
  commandId,
  command: event.type,
  bodyDigest: createHash('sha256').update(JSON.stringify(event)).digest('hex'),
  personId: event.personId,
  deviceId: ('deviceId' in event && event.deviceId) || 'none',
  deviceSequence: 0,
  occurredAt,
  steadyMs: null,
  offsetMs: 0,
  bandMs: 0,
  seenVersion: 0,
})
