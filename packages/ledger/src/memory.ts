import { emptyHead, placeAfter } from './entry-text.ts'
import { Followers } from './followers.ts'
import type { Entry, Head, Ledger, StreamName } from './ledger.ts'

interface Stream {
  readonly entries: Entry[]
  readonly byCommand: Map<string, Entry>
  sealed: boolean
}

/** A ledger that lives as long as its process: for tests and simulations. Entries are frozen, so that no reader can bend them. */
export function memoryLedger(): Ledger {
  const streams = new Map<StreamName, Stream>()

  const headOf = (name: StreamName): Head => {
    const stream = streams.get(name)
    const last = stream?.entries.at(-1)
    return last ? { stream: name, version: last.version, hash: last.hash, sealed: stream!.sealed } : emptyHead(name)
  }

  const reader = {
    async *read(name: StreamName, afterVersion: number) {
      const entries = streams.get(name)?.entries ?? []
      const upTo = entries.length
      for (let version = afterVersion + 1; version <= upTo; version++) yield entries[version - 1]!
    },
    streams: async (prefix: string) =>
      [...streams.keys()]
        .filter((name) => name.startsWith(prefix))
        .sort()
        .map(headOf),
  }
  const followers = new Followers(reader)

  return {
    ...reader,
    append: async (name, expectedVersion, draft) => {
      const stream = streams.get(name) ?? { entries: [], byCommand: new Map<string, Entry>(), sealed: false }
      const heard = stream.byCommand.get(draft.meta.commandId)
      if (heard) return heard.meta.bodyDigest === draft.meta.bodyDigest ? { appended: heard, toldTwice: true } : { commandIdReused: heard }
      const head = headOf(name)
      if (head.sealed) return { sealed: head }
      if (head.version !== expectedVersion) return { lostRace: head }

      const entry = deepFreeze(placeAfter(head, draft).entry)
      streams.set(name, stream)
      stream.entries.push(entry)
      stream.byCommand.set(entry.meta.commandId, entry)
      followers.tell(entry)
      return { appended: entry, toldTwice: false }
    },
    head: async (name) => headOf(name),
    seal: async (name, at) => {
      const stream = streams.get(name)
      if (!stream) throw new RangeError(`${name} holds nothing yet, so there is nothing to seal`)
      const head = headOf(name)
      if (head.version === at.version && head.hash === at.hash) stream.sealed = true
      return headOf(name)
    },
    follow: (prefix, seen, signal) => followers.follow(prefix, seen, signal),
    find: async (name, commandId) => streams.get(name)?.byCommand.get(commandId),
    close: async () => {},
  }
}

function deepFreeze<T>(value: T): T {
  if (typeof value === 'object' && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value)
    Object.values(value).forEach(deepFreeze)
  }
  return value
}
