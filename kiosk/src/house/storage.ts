import { signal, type ReadonlySignal } from '@preact/signals'
import type { Store } from './store.ts'

export interface Storage {
  /** undefined until tested. `mayBeCleared`: the browser did not promise to keep it. */
  state: ReadonlySignal<'kept' | 'mayBeCleared' | 'keepsNothing' | undefined>
  /** Writes, reads back, asks for persistence and looks at what room there is. */
  test(): Promise<void>
}

/** A day of one station is a few megabytes; below this a disk counts as full. */
const leastBytes = 20 * 1024 * 1024
const probe = 'probe'

export function openStorage(store: Promise<Store>): Storage {
  const state = signal<'kept' | 'mayBeCleared' | 'keepsNothing' | undefined>(undefined)
  return {
    state,
    async test() {
      state.value = (await writesAndReads(store)) && (await hasRoom()) ? ((await persists()) ? 'kept' : 'mayBeCleared') : 'keepsNothing'
    },
  }
}

async function writesAndReads(store: Promise<Store>): Promise<boolean> {
  try {
    const db = await store
    const written = Math.random()
    await db.put('facts', written, probe)
    const read = await db.get('facts', probe)
    await db.delete('facts', probe)
    return read === written
  } catch {
    return false
  }
}

// Both are there in a secure context alone; elsewhere nothing is promised and nothing is known.
async function hasRoom(): Promise<boolean> {
  const { quota, usage } = (await navigator.storage?.estimate?.()) ?? {}
  return quota === undefined || quota - (usage ?? 0) >= leastBytes
}

const persists = async (): Promise<boolean> => (await navigator.storage?.persist?.()) ?? false
