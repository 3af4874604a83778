import { openDB, type DBSchema, type IDBPDatabase } from 'idb'
import type { CopiedEntry } from './core.ts'
import type { Fact } from './facts.ts'
import type { Kept } from './outbox.ts'

interface Shape extends DBSchema {
  /** In the order in which it happened. */
  outbox: { key: number; value: Kept }
  /** The copy of the day, by day and place. */
  entries: { key: [dayId: string, place: number]; value: { dayId: string; place: number; entry: CopiedEntry } }
  facts: { key: string; value: Fact }
}
export type Store = IDBPDatabase<Shape>

/** What this device keeps. Rejects where the browser keeps nothing, also where it says so by throwing. */
export const openStore = async (): Promise<Store> =>
  openDB<Shape>('musterbook', 2, {
    async upgrade(db, before, _now, change) {
      if (before < 1) db.createObjectStore('outbox', { keyPath: 'number', autoIncrement: true })
      db.createObjectStore('entries', { keyPath: ['dayId', 'place'] })
      db.createObjectStore('facts')
      if (before < 1) return
      // What an older app kept goes on as it stands: the site reads it, or keeps it whole.
      const outbox = change.objectStore('outbox')
      for (const old of (await outbox.getAll()) as unknown as { number: number; urgent: boolean }[])
        await outbox.put({ number: old.number, item: old as never, urgent: old.urgent })
    },
  })
