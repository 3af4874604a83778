import { signal, type ReadonlySignal } from '@preact/signals'
import { openDB, type IDBPDatabase } from 'idb'
import type { Envelope } from '@musterbook/vocabulary/envelope'
import type { Api, Outcome } from '../live/api.ts'

/** An observation on its way: kept on this device before anything else is said of it. */
interface Kept {
  number?: number
  dayId: string
  noun: string
  body: object
  envelope: Envelope
  /** Stops and holds go first. */
  urgent: boolean
  /** What the site said when it could not take it: kept whole and shown, never dropped. */
  trouble?: string
}

export interface Outbox {
  /** Kept here and not yet in the record. */
  unsent: ReadonlySignal<number>
  /** Items that the site could not read: shown until somebody has looked. */
  troubled: ReadonlySignal<number>
  /** Keeps it, then sends it. Answers what the site said, or `noContact` when it stays here for now. */
  tell(item: Omit<Kept, 'number' | 'trouble'>): Promise<Outcome>
  /** False where this browser keeps nothing (a private window, a full disk): then no station runs here. */
  keeps: ReadonlySignal<boolean>
}

const again = 3_000

/** In order, urgent first, one at a time; the same command id again is harmless, so an answer that got lost costs nothing. */
export function openOutbox(api: Api): Outbox {
  const unsent = signal(0)
  const troubled = signal(0)
  const keeps = signal(true)
  const waiting = new Map<string, (outcome: Outcome) => void>()
  let working = false

  const database = openDB('musterbook', 1, {
    upgrade: (db) => void db.createObjectStore('outbox', { keyPath: 'number', autoIncrement: true }),
  })
  database.then(
    () => void work(),
    () => (keeps.value = false),
  )

  const recount = async (db: IDBPDatabase) => {
    const all = (await db.getAll('outbox')) as Kept[]
    unsent.value = all.filter((item) => !item.trouble).length
    troubled.value = all.filter((item) => item.trouble).length
    return all
  }

  async function work(): Promise<void> {
    if (working) return
    working = true
    try {
      const db = await database
      for (let item = next(await recount(db)); item; item = next(await recount(db))) {
        const outcome = await api.act(item.dayId, item.noun, item.body, item.envelope)
        if (!isAnswer(outcome)) {
          answer(item, outcome)
          setTimeout(() => void work(), again)
          return
        }
        if (outcome.said === 'recorded' || outcome.said === 'refused') await db.delete('outbox', item.number as number)
        else await db.put('outbox', { ...item, trouble: outcome.said })
        answer(item, outcome)
      }
    } finally {
      working = false
    }
  }

  const answer = ({ envelope }: Kept, outcome: Outcome) => {
    waiting.get(envelope.commandId)?.(outcome)
    waiting.delete(envelope.commandId)
  }

  return {
    unsent,
    troubled,
    keeps,
    async tell(item) {
      const db = await database
      await db.add('outbox', item)
      const heard = new Promise<Outcome>((resolve) => waiting.set(item.envelope.commandId, resolve))
      await recount(db)
      if (working) setTimeout(() => answerLater(item.envelope.commandId), again)
      void work()
      return heard
    },
  }

  /** Something before it in the line waits for contact: it is kept, and said so. */
  function answerLater(commandId: string): void {
    waiting.get(commandId)?.({ said: 'noContact' })
    waiting.delete(commandId)
  }
}

const next = (all: readonly Kept[]): Kept | undefined =>
  all.find((item) => item.urgent && !item.trouble) ?? all.find((item) => !item.trouble)

/** Signed off, locked or unheard is no answer: it stays and is sent again. */
const isAnswer = ({ said }: Outcome): boolean => said !== 'noContact' && said !== 'notSignedOn' && said !== 'broken'
