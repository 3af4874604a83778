import { createHmac, hkdfSync } from 'node:crypto'
import { mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { keyFingerprint, sealWith, type Seal } from '@musterbook/evidence/seal'
import type { Entry, LedgerReader } from '@musterbook/ledger/ledger'
import type { Seals } from '@musterbook/gateway/parts'
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
      return day ? (proofOf(dayId as DayId, day.entries as never, saltOf(dayId), sealOver(dayId, day), studentId) ?? undefined) : undefined
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
