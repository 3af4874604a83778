import { sha256 } from '@noble/hashes/sha2.js'
import { bytesToHex, concatBytes, hexToBytes, utf8ToBytes } from '@noble/hashes/utils.js'
import { canonical } from './canonical.ts'

/** Where one leaf stands in a tree, and the hashes that lead from it to the root, nearest first (RFC 9162 section 2.1.3). */
export interface InclusionProof {
  readonly index: number
  readonly size: number
  readonly path: readonly string[]
}

const leafPrefix = Uint8Array.of(0)
const nodePrefix = Uint8Array.of(1)

/** Hash of one leaf: SHA-256 over 0x00 and its bytes (RFC 9162 section 2.1.1). All hashes here are lower-case hex. */
export function leafHash(bytes: Uint8Array): string {
  return bytesToHex(sha256(concatBytes(leafPrefix, bytes)))
}

/**
 * Hash of one leaf that a stranger cannot guess: a score has few possible values, so an unsalted sibling in somebody's proof could be found
 * from a table. `salt` is at least 16 random bytes in hex, of this leaf alone.
 */
export function saltedLeafHash(salt: string, value: unknown): string {
  if (!/^(?:[0-9a-f]{2}){16,}$/.test(salt)) throw new RangeError('a leaf needs a salt of at least 16 bytes in lower-case hex')
  return leafHash(utf8ToBytes(canonical({ salt, value })))
}

/** The root over leaf hashes in their order; of no leaves, SHA-256 of nothing. */
export function rootOf(leaves: readonly string[]): string {
  if (leaves.length === 0) return bytesToHex(sha256(new Uint8Array()))
  let level = leaves
  while (level.length > 1) level = levelAbove(level)
  return level[0]!
}

/** The proof that the leaf at `index` is in the tree over `leaves`. */
export function inclusionProof(leaves: readonly string[], index: number): InclusionProof {
  if (!Number.isInteger(index) || index < 0 || index >= leaves.length)
    throw new RangeError(`no leaf ${index} in a tree of ${leaves.length}`)
  const path: string[] = []
  for (let level = leaves, at = index; level.length > 1; level = levelAbove(level), at >>= 1) {
    const sibling = level[at ^ 1]
    if (sibling !== undefined) path.push(sibling)
  }
  return { index, size: leaves.length, path }
}

/** Whether `proof` leads from `leaf` to `root`: the algorithm of RFC 9162 section 2.1.3.2. */
export function verifyInclusion(leaf: string, proof: InclusionProof, root: string): boolean {
  const { index, size, path } = proof
  if (!Number.isSafeInteger(index) || !Number.isSafeInteger(size) || index < 0 || index >= size || size > 2 ** 31) return false
  if (![leaf, root, ...path].every((hash) => /^[0-9a-f]{64}$/.test(hash))) return false
  let at = index
  let last = size - 1
  let hash = leaf
  for (const sibling of path) {
    if (last === 0) return false
    if (at % 2 === 1 || at === last) {
      hash = nodeHash(sibling, hash)
      while (at % 2 === 0 && at !== 0) {
        at >>>= 1
        last >>>= 1
      }
    } else {
      hash = nodeHash(hash, sibling)
    }
    at >>>= 1
    last >>>= 1
  }
  return last === 0 && hash === root
}

/** A node without a neighbour rises as it is: level by level this builds the tree that RFC 9162 splits at the largest power of two. */
function levelAbove(level: readonly string[]): string[] {
  const above: string[] = []
  for (let left = 0; left < level.length; left += 2) {
    const right = level[left + 1]
    above.push(right === undefined ? level[left]! : nodeHash(level[left]!, right))
  }
  return above
}

function nodeHash(left: string, right: string): string {
  return bytesToHex(sha256(concatBytes(nodePrefix, hexToBytes(left), hexToBytes(right))))
}
