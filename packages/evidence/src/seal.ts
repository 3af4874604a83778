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
  const signature = bytesToHex(ed25519.sign(signedBytes(statement), secretKey))
  return { statement, publicKey: bytesToHex(ed25519.getPublicKey(secretKey)), signature }
}

/**
 * Why this seal does not hold, as a sentence; undefined when it does. `fingerprint` is what stands on the day's printed sheet: a seal is only
 * as good as the knowledge of whose key it is, since whoever can write the file can sign it anew with another.
 */
export function sealFault(seal: Seal, fingerprint: string): string | undefined {
  if (keyFingerprint(seal.publicKey) !== fingerprint.toLowerCase()) return 'the seal was made with another key than the one expected'
  return signatureHolds(seal) ? undefined : 'the signature does not fit what the seal says'
}

/** SHA-256 of the 32 bytes of a public key, hex: short enough to print and compare by eye. */
export function keyFingerprint(publicKey: string): string {
  return /^[0-9a-f]{64}$/.test(publicKey) ? bytesToHex(sha256(hexToBytes(publicKey))) : ''
}

function signatureHolds(seal: Seal): boolean {
  if (!/^[0-9a-f]{128}$/.test(seal.signature)) return false
  try {
    // The strict rules of RFC 8032 and FIPS 186-5: a signature that only lenient verifiers take is no evidence.
    return ed25519.verify(hexToBytes(seal.signature), signedBytes(seal.statement), hexToBytes(seal.publicKey), { zip215: false })
  } catch {
    return false // A key that is no point on the curve, or a statement that has no canonical form.
  }
}

/** The name in front keeps a signature over a seal from ever being passed off as one over something else. */
function signedBytes(statement: SealStatement): Uint8Array {
  return utf8ToBytes(canonical({ signs: 'musterbook seal 1', statement }))
}
