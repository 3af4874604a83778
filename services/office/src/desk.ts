import { randomBytes } from 'node:crypto'
import type { Ledger } from '@musterbook/ledger/ledger'
import type { Keys } from './keys.ts'
import type { Store } from './store.ts'

/** What every noun of the office works with. */
export interface Desk {
  ledger: Ledger
  people: Store
  medical: Store
  keys: Keys
  /** The ledger's clock, epoch ms. */
  now(): number
  /** A new id: a word of its kind, then chance. */
  newId(kind: string): string
  /** scrypt's N for new PINs: a power of two. */
  pinCost: number
}

/** Without 0, O, 1, I and L, which people misread. */
const readable = '23456789ABCDEFGHJKMNPQRSTUVWXYZ'

/** A code that a person can read aloud and type: about 4.95 bits a character. */
export function readableCode(length: number): string {
  let code = ''
  while (code.length < length) {
    for (const byte of randomBytes(length * 2)) {
      // Bytes past the last whole multiple would make some letters likelier.
      if (byte < 256 - (256 % readable.length) && code.length < length) code += readable[byte % readable.length]
    }
  }
  return code
}

export const plainCode = (code: string): string => code.toUpperCase().replace(/[^A-Z0-9]/g, '')
