import { signal, type ReadonlySignal } from '@preact/signals'
import type { KeptItem } from '@musterbook/vocabulary/kept-act'
import type { Api, HeardRefusal, Outcome } from '../live/api.ts'
import type { Store } from './store.ts'

/** On its way to the record: kept on this device before anything else is said of it. */
export interface Kept {
  number?: number
  item: KeptItem
  /** Stops, holds and that a hold was heard go first. */
  urgent: boolean
  /** What this device decided by itself; none where the site was there to ask. */
  alone?: { events: readonly { readonly type: string }[]; recordedAt: number }
  /** The site could not read it and keeps it whole under a number, as this device does until somebody has looked. */
  unread?: { number: number; because: string }
}

/** Asks the site at once, while somebody waits for the answer. */
export type AskNow = () => Promise<Outcome>

export interface Outbox {
  /** Kept here and not yet in the record. */
  unsent: ReadonlySignal<number>
  /** What was kept before this page opened has been read: from then on the counts are true. */
  counted: ReadonlySignal<boolean>
  /** Items that the site could not read: shown until somebody has looked. */
  troubled: ReadonlySignal<number>
  /** False where this browser keeps nothing (a private window, a full disk): then no station runs here. */
  keeps: ReadonlySignal<boolean>
  /** The last thing that it was to keep did not fit any more. What can be told at once still is. */
  full: ReadonlySignal<boolean>
  /** What waits, in the order in which it happened. */
  waiting: ReadonlySignal<readonly Kept[]>
  /** What went into the record last, until the copy of the day has it too. */
  landed: ReadonlySignal<readonly Kept[]>
  /** What the site refused when it was told later. */
  refusedLater: ReadonlySignal<readonly { item: KeptItem; refusal: HeardRefusal }[]>
  /** Does what was observed under this id still wait here? */
  waits(observationId: string): boolean
  forgetRefused(): void
  /** Keeps it, then sends it: with `now` it is asked while the site is there, and answers what the site said. `kept`: it stays here for now. */
  tell(kept: Omit<Kept, 'number' | 'unread'>, now?: AskNow): Promise<Outcome>
}

export interface OutboxParts {
  store: Promise<Store>
  api: Api
  /** Is the site out of reach? Then nobody waits for an answer. */
  lost: ReadonlySignal<boolean>
  /** Has everything come in that others told meanwhile? Holds are heard before any backlog goes out. */
  caughtUp: ReadonlySignal<boolean>
  chance?: () => number
}

const again = 3_000
/** A hold that has just come is on the screen before the backlog starts; and not every tablet starts at once. */
const beforeBacklogMs = 400
const spreadMs = 1_600
const paceMs = 250
const landing = 50

/** In order, safety first, one at a time; the same command id again is harmless, so an answer that got lost costs nothing. */
export function openOutbox({ store, api, lost, caughtUp, chance = Math.random }: OutboxParts): Outbox {
  const waiting = signal<readonly Kept[]>([])
  const unread = signal<readonly Kept[]>([])
  const unsent = signal(0)
  const troubled = signal(0)
  const keeps = signal(true)
  const full = signal(false)
  const counted = signal(false)
  const landed = signal<readonly Kept[]>([])
  const refusedLater = signal<readonly { item: KeptItem; refusal: HeardRefusal }[]>([])
  const answers = new Map<Kept, (outcome: Outcome) => void>()
  const asks = new Map<number, AskNow>()

  const show = (all: readonly Kept[], asideOf: readonly Kept[]) => {
    waiting.value = all
    unread.value = asideOf
    unsent.value = all.length
    troubled.value = asideOf.length
  }
  const without = (kept: Kept) => waiting.peek().filter((one) => one !== kept)

  const ready = store.then(async (db) => {
    const all = await db.getAll('outbox')
    show(
      all.filter((kept) => !kept.unread),
      all.filter((kept) => kept.unread),
    )
    counted.value = true
    return db
  })
  ready.catch(() => (keeps.value = false))

  const safety = lane((kept) => kept.urgent)
  const others = lane((kept) => !kept.urgent)
  const start = () => {
    void safety.work()
    void others.work()
  }
  void ready.then(start, () => undefined)
  void ready.then(letGo, () => undefined)
  lost.subscribe((isLost) => {
    if (isLost) for (const kept of [...answers.keys()]) answer(kept, { said: 'kept' })
    else start()
  })
  caughtUp.subscribe((isCaughtUp) => isCaughtUp && start())
  setInterval(() => void letGo(), 30_000)

  function answer(kept: Kept, outcome: Outcome): void {
    answers.get(kept)?.(outcome)
    answers.delete(kept)
  }

  /** What goes out one after the other: stops and holds have a lane of their own. */
  function lane(isIn: (kept: Kept) => boolean) {
    let working = false
    let timer: ReturnType<typeof setTimeout> | undefined
    const work = async (): Promise<void> => {
      clearTimeout(timer)
      if (working) return
      working = true
      try {
        const db = await ready.catch(() => undefined)
        if (!db) return
        let isFirst = true
        for (let kept = waiting.peek().find(isIn); kept; kept = waiting.peek().find(isIn)) {
          const isBacklog = !asks.has(kept.number!) && !kept.urgent
          if (isBacklog && !caughtUp.peek()) break
          if (isBacklog) await pause(isFirst ? beforeBacklogMs + chance() * spreadMs : paceMs * (0.6 + 0.8 * chance()))
          if (isBacklog && !caughtUp.peek()) break
          isFirst &&= !isBacklog
          if (!(await send(db, kept))) break
        }
      } finally {
        working = false
      }
      if (waiting.peek().some(isIn)) timer = setTimeout(() => void work(), again)
    }
    return { work }
  }

  /** False: the site was not heard, and it waits. */
  async function send(db: Store, kept: Kept): Promise<boolean> {
    const now = asks.get(kept.number!)
    asks.delete(kept.number!)
    const outcome = await ask(kept.item, now)
    if (!isAnswer(outcome)) {
      answer(kept, { said: 'kept' })
      return false
    }
    const number = unreadNumber(outcome)
    if (number) {
      const aside = { ...kept, unread: number }
      await db.put('outbox', aside)
      show(without(kept), [...unread.peek(), aside])
    } else {
      await db.delete('outbox', kept.number!)
      if (outcome.said === 'recorded') landed.value = [...landed.peek().slice(-landing), kept]
      if (outcome.said === 'refused' && !answers.has(kept))
        refusedLater.value = [...refusedLater.peek(), { item: kept.item, refusal: outcome.refusal }]
      show(without(kept), unread.peek())
    }
    answer(kept, outcome)
    return true
  }

  /** What the site cannot take at its noun it takes whole. */
  async function ask(item: KeptItem, now: AskNow | undefined): Promise<Outcome> {
    const first = now && (await now())
    return first && (isAnswer(first) || isSilence(first)) ? first : api.post('/api/kept-items', item)
  }

  /** Under which number it lies here; undefined: this device could not take it. */
  async function keep(told: Omit<Kept, 'number' | 'unread'>): Promise<number | undefined> {
    try {
      const change = (await ready).transaction('outbox', 'readwrite', { durability: 'strict' })
      const [number] = await Promise.all([change.store.add(told), change.done])
      full.value = false
      return number
    } catch {
      full.value = true
      return undefined
    }
  }

  /** Nothing of it stays here: only the site's own word says that it stands. */
  async function tellUnkept(item: KeptItem, now: AskNow | undefined): Promise<Outcome> {
    const heard = lost.peek() ? undefined : await ask(item, now)
    return heard && isAnswer(heard) ? heard : { said: 'notKept' }
  }

  /** Somebody has looked at what could not be read: this device lets go of its own. */
  async function letGo(): Promise<void> {
    if (unread.peek().length === 0 || lost.peek()) return
    const heard = await api.get<{ settled: number[] }>('/api/kept-items/own')
    if (heard.said !== 'recorded') return
    const db = await ready
    const isSettled = (kept: Kept) => heard.body.settled.includes(kept.unread!.number)
    for (const kept of unread.peek().filter(isSettled)) await db.delete('outbox', kept.number!)
    show(
      waiting.peek(),
      unread.peek().filter((kept) => !isSettled(kept)),
    )
  }

  return {
    unsent,
    counted,
    troubled,
    keeps,
    full,
    waiting,
    landed,
    refusedLater,
    waits: (observationId) => waiting.value.some(({ item }) => item.kind === 'act' && item.body['observationId'] === observationId),
    forgetRefused: () => (refusedLater.value = []),
    async tell(told, now) {
      const number = await keep(told)
      if (number === undefined) return tellUnkept(told.item, now)
      const kept: Kept = { ...told, number }
      const heard = new Promise<Outcome>((resolve) => answers.set(kept, resolve))
      if (now && !lost.peek()) asks.set(number, now)
      show([...waiting.peek(), kept], unread.peek())
      if (lost.peek()) answer(kept, { said: 'kept' })
      // Something before it in the line waits: it is kept, and said so.
      else if (waiting.peek().filter(({ urgent }) => urgent === kept.urgent).length > 1)
        setTimeout(() => answer(kept, { said: 'kept' }), again)
      start()
      return heard
    },
  }
}

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))

/** It is in the record, or refused there. What the site could not take at its noun goes the way of what is kept whole. */
const isAnswer = ({ said }: Outcome): boolean => said === 'recorded' || said === 'refused'

/** Nobody answered, or something broke on the way: it stays and is sent again. */
const isSilence = ({ said }: Outcome): boolean => said === 'noContact' || said === 'broken'

function unreadNumber(outcome: Outcome): Kept['unread'] {
  const { kept } = (outcome.said === 'recorded' ? outcome.body : {}) as { kept?: Kept['unread'] }
  return kept
}
