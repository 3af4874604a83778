import { createHmac, hkdfSync } from 'node:crypto'
import { mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { keyFingerprint, sealWith, sign, type Seal } from '@musterbook/evidence/seal'
import type { Entry, LedgerReader } from '@musterbook/ledger/ledger'
import type { Seals } from '@musterbook/gateway/parts'
import { bundleStatement } from '@musterbook/replay/bundle'
import { fileStatement, lastLineOf } from '@musterbook/replay/bundle-file'
import { proofOf, statementOf, type SaltOf } from '@musterbook/replay/leaves'
import type { DayId } from '@musterbook/vocabulary/ids'

/**
 * Seals of days: signed with the site's key, kept in the data folder beside the ledger, printed on the day sheet.
 * Signing key and salts come from the key file by HKDF, so that the same day gives the same seal at any time, and whoever has only
 * the data folder can neither sign a bent day anew nor guess a neighbour's leaf.
 */
export function openSeals({ ledger, keyFile, data }: { ledger: LedgerReader; keyFile: string; data: string }): Seals {
  const root = Buffer.from(readFileSync(keyFile, 'utf8').trim(), 'hex')
  const secret = new Uint8Array(hkdfSync('sha256', root, Buffer.alloc(0), 'musterbook site seal', 32))
  const salts = Buffer.from(hkdfSync('sha256', root, Buffer.alloc(0), 'musterbook leaf salts', 32))
  const { publicKey } = sealWith(secret, {
    stream: '',
    version: 0,
    hash: '',
    events: { root: '', size: 0 },
    records: { root: '', size: 0 },
    sealedAt: 0,
  })
  const saltOf =
    (dayId: string): SaltOf =>
    (tree, index) =>
      createHmac('sha256', salts).update(`${dayId}\n${tree}\n${index}`).digest('hex')

  const sealed = async (dayId: string): Promise<{ entries: Entry[]; sealedAt: number } | undefined> => {
    const entries: Entry[] = []
    for await (const entry of ledger.read(`day/${dayId}`, 0)) entries.push(entry)
    const last = entries.at(-1)
    return last?.events.some((event) => event.type === 'daySealed') ? { entries, sealedAt: last.recordedAt } : undefined
  }
  const sealOver = (dayId: string, { entries, sealedAt }: { entries: Entry[]; sealedAt: number }): Seal => {
    const { version, hash } = entries.at(-1)!
    return sealWith(secret, statementOf(dayId as DayId, entries as never, saltOf(dayId), { version, hash }, sealedAt))
  }

  /** Signed when it is asked for: what comes after a seal has no end. */
  const proofAfter = async (dayId: string, entries: readonly Entry[], studentId: string) => {
    const after: Entry[] = []
    for await (const entry of ledger.read(`after/${dayId}`, 0)) after.push(entry)
    const last = after.at(-1)
    if (!last) return null
    const recorded = [...entries, ...after] as never
    const salted = saltOf(`after/${dayId}`)
    const seal = sealWith(secret, statementOf(dayId as DayId, recorded, salted, last, last.recordedAt, 'after'))
    return proofOf(dayId as DayId, recorded, salted, seal, studentId)
  }
  const proofIn = (dayId: string, day: { entries: Entry[]; sealedAt: number }, studentId: string) =>
    proofOf(dayId as DayId, day.entries as never, saltOf(dayId), sealOver(dayId, day), studentId)

  return {
    fingerprint: keyFingerprint(publicKey),
    async sealOf(dayId) {
      const day = await sealed(dayId)
      if (!day) return undefined
      const seal = sealOver(dayId, day)
      keep(data, dayId, seal)
      return seal
    },
    async proofOf(dayId, studentId) {
      const day = await sealed(dayId)
      return day ? (proofIn(dayId, day, studentId) ?? undefined) : undefined
    },
    async bundleOf(dayId, studentId, name) {
      const day = await sealed(dayId)
      const proof = day && proofIn(dayId, day, studentId)
      if (!proof) return undefined
      const evidence = { form: 'musterbook bundle 2' as const, name, proof, after: await proofAfter(dayId, day.entries, studentId) }
      return { ...evidence, signature: sign(secret, 'musterbook bundle 2', bundleStatement(evidence)) }
    },
    signedFile(page) {
      const statement = fileStatement(new TextEncoder().encode(page))
      return page + lastLineOf(statement, sign(secret, 'musterbook file 1', statement))
    },
  }
}

/** For exports and for whoever verifies without the key. Written whole or not at all. */
function keep(data: string, dayId: string, seal: Seal): void {
  const folder = join(data, 'seals')
  mkdirSync(folder, { recursive: true, mode: 0o700 })
  const file = join(folder, `${dayId}.json`)
  writeFileSync(`${file}.new`, `${JSON.stringify(seal, null, 2)}\n`)
  renameSync(`${file}.new`, file)
}
