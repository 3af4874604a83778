import { ed25519 } from '@noble/curves/ed25519.js'
import { sha256 } from '@noble/hashes/sha2.js'
import { bytesToHex, hexToBytes, utf8ToBytes } from '@noble/hashes/utils.js'
import { canonical } from './canonical.ts'

/** A Merkle root and how many leaves stand under it. */
export interface Tree {
  readonly root: string
  readonly size: number
}

/** What a seal says of a day: where its chain ended, and the roots over its events and over its final records. */
export interface SealStatement {
  readonly stream: string
  readonly version: number
  readonly hash: string
  readonly events: Tree
  readonly records: Tree
  /** The ledger's clock, epoch milliseconds. */
  readonly sealedAt: number
}

/** A statement signed with the site's key. Whoever holds the fingerprint on paper can tell whose it is. */
export interface Seal {
  readonly statement: SealStatement
  /** Ed25519 public key (RFC 8032), hex. */
  readonly publicKey: string
  readonly signature: string
}

/** Signs with the site's 32-byte secret key. The same statement and key always give the same seal. */
export function sealWith(secretKey: Uint8Array, statement: SealStatement): Seal {
  return { statement, publicKey: bytesToHex(ed25519.getPublicKey(secretKey)), signature: sign(secretKey, 'musterbook seal 1', statement) }
}

/** What else the site's key signs. Each has a name of its own, so that a signature over one is never passed off as one over another. */
export type Signed = 'musterbook seal 1' | 'musterbook bundle 2' | 'musterbook file 1'

export const sign = (secretKey: Uint8Array, signs: Signed, statement: unknown): string =>
  bytesToHex(ed25519.sign(signedBytes(signs, statement), secretKey))

/**
 * Why this seal does not hold, as a sentence; undefined when it does. `fingerprint` is what stands on the day's printed sheet: a seal is only
 * as good as the knowledge of whose key it is, since whoever can write the file can sign it anew with another.
 */
export function sealFault(seal: Seal, fingerprint: string): string | undefined {
  if (keyFingerprint(seal.publicKey) !== fingerprint.toLowerCase()) return 'the seal was made with another key than the one expected'
  return signatureHolds(seal, 'musterbook seal 1', seal.statement) ? undefined : 'the signature does not fit what the seal says'
}

/** SHA-256 of the 32 bytes of a public key, hex: short enough to print and compare by eye. */
export function keyFingerprint(publicKey: string): string {
  return /^[0-9a-f]{64}$/.test(publicKey) ? bytesToHex(sha256(hexToBytes(publicKey))) : ''
}

export function signatureHolds(
  { publicKey, signature }: { publicKey: string; signature: string },
  signs: Signed,
  statement: unknown,
): boolean {
  if (!/^[0-9a-f]{128}$/.test(signature)) return false
  try {
    // The strict rules of RFC 8032 and FIPS 186-5: a signature that only lenient verifiers take is no evidence.
    return ed25519.verify(hexToBytes(signature), signedBytes(signs, statement), hexToBytes(publicKey), { zip215: false })
  } catch {
    return false // A key that is no point on the curve, or a statement that has no canonical form.
  }
}

const signedBytes = (signs: Signed, statement: unknown): Uint8Array => utf8ToBytes(canonical({ signs, statement }))
