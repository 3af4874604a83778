import type { PersonOnDay } from '@musterbook/gateway/routes/people'
import type { SessionAnswer } from '@musterbook/gateway/routes/session'
import type { DayView } from '@musterbook/day/views'
import type { Equipment } from '@musterbook/vocabulary/office-events'
import type { Role } from '@musterbook/vocabulary/people'
import type { Store } from './store.ts'

/** Who proved themselves at this device: the only ones who may sign on here while the site is out of reach. Nothing of a PIN is kept. */
export interface SignedOnHere {
  personId: string
  name: string
  roles: Role[]
  qualifiedFor: string[]
  /** Absent where it was kept before there were badges. */
  badge?: string | null
  /** The site's time. */
  at: number
}

/** What a device knows beside the day, so that it stands up by itself. */
export interface Facts {
  session: { answer: SessionAnswer; signedOn: SignedOn }
  days: readonly DayView[]
  people: { dayId: string; people: readonly PersonOnDay[] }
  /** Written and read back, to see whether this browser keeps anything. */
  probe: number
  staff: readonly { personId: string; name: string }[]
  equipment: readonly Equipment[]
  signedOnHere: readonly SignedOnHere[]
}
/** Where no day says otherwise: the domain's own number, without loading the rules to know it. */
export const usualDeviceHours = 12

export type Fact = Facts[keyof Facts]
export type SignedOn = 'withPin' | 'outOfContact' | null

export const keepFact = async <Name extends keyof Facts>(store: Promise<Store>, name: Name, fact: Facts[Name]): Promise<void> => {
  // A device that keeps nothing says so elsewhere, and goes on while it is in contact.
  await store.then((db) => db.put('facts', fact, name)).catch(() => undefined)
}

export async function keptFacts(store: Promise<Store>): Promise<Partial<Facts>> {
  try {
    const db = await store
    const names = await db.getAllKeys('facts')
    const facts = await Promise.all(names.map((name) => db.get('facts', name)))
    return Object.fromEntries(names.map((name, at) => [name, facts[at]])) as Partial<Facts>
  } catch {
    return {}
  }
}

/** Everything but the outbox: names, faces, entries. What waits to be told is never thrown away. */
export async function forget(store: Promise<Store>): Promise<void> {
  const db = await store
  const all = db.transaction(['facts', 'entries'], 'readwrite')
  await Promise.all([all.objectStore('facts').clear(), all.objectStore('entries').clear(), all.done])
}
