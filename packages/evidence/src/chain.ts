import { canonical, digestOfText } from './canonical.ts'

/** What the first entry of every stream names as the hash before it. */
export const genesis = '0'.repeat(64)

/** The part of an entry that chains it to the one before. */
export interface Link {
  readonly stream: string
  readonly version: number
  readonly prevHash: string
  readonly hash: string
}

/** The hash of an entry: over everything it holds, its stream, version and the hash before it included, and itself left out. */
export function entryHash(entry: object): string {
  return hashBy(digestOfText, entry)
}

function hashBy(hashOf: (text: string) => string, entry: object): string {
  const { hash: _itself, ...rest } = entry as { hash?: string }
  return hashOf(canonical(rest))
}

/**
 * Why `entry` cannot stand right after `before`, as a sentence; undefined when it fits. `before` is undefined for the first entry of a stream.
 * `hashOf`: SHA-256 by the machine's own code, where a whole ledger is read on a server.
 */
export function chainFault(before: Link | undefined, entry: Link, hashOf = digestOfText): string | undefined {
  const name = `entry ${entry.version} of ${entry.stream}`
  const expected = (before?.version ?? 0) + 1
  if (before && before.stream !== entry.stream) return `${name} stands in the stream ${before.stream}`
  if (entry.version !== expected) return `${name} stands where entry ${expected} belongs`
  if (entry.prevHash !== (before?.hash ?? genesis)) return `${name} does not name the hash of the entry before it`
  if (hashBy(hashOf, entry) !== entry.hash) return `${name} does not have the content that its hash was made over`
  return undefined
}
