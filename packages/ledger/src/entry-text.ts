import { hash as hashOnce } from 'node:crypto'
import { canonical } from '@musterbook/evidence/canonical'
import { genesis } from '@musterbook/evidence/chain'
import type { Draft, Entry, Head, StreamName } from './ledger.ts'

/** An entry as every ledger keeps it: the canonical text that its hash is made over, and that hash. */
export interface WrittenEntry {
  readonly entry: Entry
  readonly text: string
}

export function emptyHead(stream: StreamName): Head {
  return { stream, version: 0, hash: genesis, sealed: false }
}

/** Gives a draft its place right after `head`. */
export function placeAfter(head: Head, draft: Draft): WrittenEntry {
  if (draft.events.length === 0) throw new RangeError(`an entry needs at least one event (${draft.meta.command} on ${head.stream})`)
  const unhashed = {
    stream: head.stream,
    version: head.version + 1,
    prevHash: head.hash,
    meta: draft.meta,
    recordedAt: draft.recordedAt,
    events: draft.events,
  }
  const text = canonical(unhashed)
  return { entry: { ...(JSON.parse(text) as Omit<Entry, 'hash'>), hash: hashOfText(text) }, text }
}

/** Reads an entry back and checks that it is what was written: its text has its hash, and it stands where it says. */
export function readBack(text: string, hash: string, stream: StreamName, version: number): Entry {
  if (hashOfText(text) !== hash)
    throw new BrokenChain(`entry ${version} of ${stream} does not have the content that its hash was made over`)
  const entry = { ...(JSON.parse(text) as Omit<Entry, 'hash'>), hash }
  if (entry.stream !== stream || entry.version !== version) {
    throw new BrokenChain(`entry ${entry.version} of ${entry.stream} stands where entry ${version} of ${stream} belongs`)
  }
  return entry
}

/** Throws unless `entry` is the next one after `before`. */
export function assertFollows(before: { version: number; hash: string | undefined }, entry: Entry): void {
  const name = `entry ${entry.version} of ${entry.stream}`
  if (entry.version !== before.version + 1) throw new BrokenChain(`${name} stands where entry ${before.version + 1} belongs`)
  if (before.hash !== undefined && entry.prevHash !== before.hash) {
    throw new BrokenChain(`${name} does not name the hash of the entry before it`)
  }
}

/** The ledger's own promise does not hold any more: nothing built on this stream may carry on. */
export class BrokenChain extends Error {
  override name = 'BrokenChain'
}

/** The same digest as `@musterbook/evidence` makes, by the machine's own code: every command, every append and every read asks for it. */
export function hashOfText(text: string): string {
  return hashOnce('sha256', text, 'hex')
}
