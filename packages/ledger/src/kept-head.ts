import { canonical, digest } from '@musterbook/evidence/canonical'
import type { Head } from './ledger.ts'

/** Where every stream stood at one moment, to be kept outside the ledger: on paper the digest, on another machine the whole. */
export interface KeptHead {
  readonly kind: 'musterbook head 1'
  readonly heads: readonly Head[]
  /** Digest of `heads`: what a day sheet prints. */
  readonly digest: string
}

export function keptHead(heads: readonly Head[]): KeptHead {
  const sorted = [...heads].sort((one, other) => (one.stream < other.stream ? -1 : 1))
  return { kind: 'musterbook head 1', heads: sorted, digest: digest(sorted) }
}

export function keptHeadText(kept: KeptHead): string {
  return canonical(kept)
}

/** Reads a kept head. Throws with a sentence when the text is none, or was changed since it was kept. */
export function parseKeptHead(text: string): KeptHead {
  const kept = parseJson(text) as Partial<KeptHead> | undefined
  if (kept?.kind !== 'musterbook head 1' || !Array.isArray(kept.heads) || !kept.heads.every(isHead)) {
    throw new Error('this is not a kept head: make one with "ledger head"')
  }
  if (digest(kept.heads) !== kept.digest) throw new Error('this kept head was changed since it was kept: its digest does not fit its heads')
  return kept as KeptHead
}

function isHead(head: unknown): head is Head {
  const { stream, version, hash, sealed } = (head ?? {}) as Partial<Head>
  return typeof stream === 'string' && Number.isSafeInteger(version) && typeof hash === 'string' && typeof sealed === 'boolean'
}

function parseJson(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return undefined
  }
}
