import { randomBytes } from 'node:crypto'
import { digest } from '@musterbook/evidence/canonical'
import type { TextId } from '@musterbook/vocabulary/ids'
import type { SealedText } from '@musterbook/vocabulary/people'
import type { Desk } from './desk.ts'
import { medicalOwner, recordOwner } from './student-shelf.ts'

export interface Texts {
  /** Keeps the words and gives what the ledger may hold: an id and the digest of `{salt, text}` in canonical form. */
  /** Of a student, they are sealed for that student and go when the record is erased. */
  seal(text: string, about: 'general' | 'medical', studentId: string | null): SealedText
  open(textId: TextId, about: 'general' | 'medical'): string | null
}

/**
 * What people typed. The salt is drawn for each text and kept with it, so that nobody guesses the words from the digest and whoever has them
 * can prove that they are the ones. Medical words lie in the medical store.
 */
export function texts({ people, medical, keys, newId }: Desk): Texts {
  const shelf = { general: people, medical }
  return {
    seal: (text, about, studentId) => {
      const textId = newId('text') as TextId
      const salted = { salt: randomBytes(16).toString('hex'), text }
      const owner = studentId && (about === 'medical' ? medicalOwner : recordOwner)(studentId)
      // Of somebody whom the office does not know, as on a paper of another site, the words are the office’s own.
      const isOwned = owner !== null && keys.hasOwn(owner)
      const words = JSON.stringify(salted)
      const sealed = isOwned ? keys.sealFor(owner, textId, words) : keys.seal('text', textId, words)
      shelf[about].prepare('INSERT INTO words (textId, owner, sealed) VALUES (?, ?, ?)').run(textId, isOwned ? owner : null, sealed)
      return { textId, digest: digest(salted) }
    },
    open: (textId, about) => {
      const row = shelf[about].prepare('SELECT owner, sealed FROM words WHERE textId = ?').get(textId) as
        { owner: string | null; sealed: Buffer } | undefined
      const words = row && (row.owner === null ? keys.open('text', textId, row.sealed) : keys.openFor(row.owner, textId, row.sealed))
      return words ? (JSON.parse(words) as { text: string }).text : null
    },
  }
}
