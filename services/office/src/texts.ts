import { randomBytes } from 'node:crypto'
import { digest } from '@musterbook/evidence/canonical'
import type { TextId } from '@musterbook/vocabulary/ids'
import type { SealedText } from '@musterbook/vocabulary/people'
import type { Desk } from './desk.ts'

export interface Texts {
  /** Keeps the words and gives what the ledger may hold: an id and the digest of `{salt, text}` in canonical form. */
  seal(text: string, about: 'general' | 'medical'): SealedText
  open(textId: TextId, about: 'general' | 'medical'): string | null
}

/**
 * What people typed. The salt is drawn for each text and kept with it, so that nobody guesses the words from the digest and whoever has them
 * can prove that they are the ones. Medical words lie in the medical store.
 */
export function texts({ people, medical, keys, newId }: Desk): Texts {
  const shelf = { general: people, medical }
  return {
    seal: (text, about) => {
      const textId = newId('text') as TextId
      const salted = { salt: randomBytes(16).toString('hex'), text }
      const sealed = keys.seal('text', textId, JSON.stringify(salted))
      shelf[about].prepare('INSERT INTO text (textId, sealed) VALUES (?, ?)').run(textId, sealed)
      return { textId, digest: digest(salted) }
    },
    open: (textId, about) => {
      const sealed = shelf[about].prepare('SELECT sealed FROM text WHERE textId = ?').pluck().get(textId) as Buffer | undefined
      return sealed ? (JSON.parse(keys.open('text', textId, sealed)) as { text: string }).text : null
    },
  }
}
