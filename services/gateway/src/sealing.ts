import type { ActName } from '@musterbook/vocabulary/act-table'
import type { StudentId } from '@musterbook/vocabulary/ids'
import type { Office } from '@musterbook/vocabulary/office'
import type { SealedText } from '@musterbook/vocabulary/people'
import type { LedgerReader } from '@musterbook/ledger/ledger'

/** Acts whose words lie in the medical compartment. */
const medical: ReadonlySet<ActName> = new Set<ActName>(['reportHealthEvent'])

interface Words {
  act: ActName
  dayId: string
  commandId: string
  field: string
  text: string
  /** Of whom the words are, where they are of somebody. */
  studentId: StudentId | null
}

/**
 * Seals what a person typed. A command that is told twice must come out the same, and each sealing has its own salt; so the
 * first one is remembered, and found again in the record after a restart.
 */
export interface Sealing {
  seal(words: Words): Promise<SealedText>
}

const remembered = 5_000

export function sealing({ office, ledger }: { office: Pick<Office, 'seal' | 'openText'>; ledger: Pick<LedgerReader, 'find'> }): Sealing {
  const done = new Map<string, { text: string; sealed: Promise<SealedText> }>()

  const first = async ({ act, dayId, commandId, field, text, studentId }: Words): Promise<SealedText> => {
    const entry = (await ledger.find(`day/${dayId}`, commandId)) ?? (await ledger.find(`after/${dayId}`, commandId))
    for (const event of entry?.events ?? []) {
      const sealed = event[field] as SealedText | null | undefined
      // Medical words are not opened to compare them: what stands under this command id is taken for the same.
      if (sealed?.textId && (medical.has(act) || (await office.openText(sealed.textId)) === text))
        return { textId: sealed.textId, digest: sealed.digest }
    }
    return office.seal(text, medical.has(act) ? 'medical' : 'general', studentId)
  }

  return {
    seal(words) {
      const key = `${words.dayId} ${words.commandId} ${words.field}`
      const known = done.get(key)
      if (known?.text === words.text) return known.sealed
      const sealed = first(words)
      done.set(key, { text: words.text, sealed })
      sealed.catch(() => done.delete(key))
      for (const oldest of done.keys()) if (done.size > remembered) done.delete(oldest)
      return sealed
    },
  }
}
