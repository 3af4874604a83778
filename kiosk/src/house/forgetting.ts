import { computed, signal, type ReadonlySignal } from '@preact/signals'
import { forget, usualDeviceHours, type Facts } from './facts.ts'
import type { Store } from './store.ts'

interface Parts {
  store: Promise<Store>
  facts: Promise<Partial<Facts>>
  lost: ReadonlySignal<boolean>
  days: ReadonlySignal<readonly { deviceHours?: number | undefined }[]>
  /** When the site was last heard, by its own clock; 0 while it never was. */
  heardAt: () => number
  now: () => number
  /** The open page lets go of what it shows, and signs off. */
  letGo: () => void
}

export interface Forgetting {
  /** It has been done, and the site is still out of reach. */
  forgotten: ReadonlySignal<boolean>
}

const everyMs = 60_000

/** What is known of a day is thrown away when its hours are over, in an open page too; what waits to be told never is. */
export function openForgetting({ store, facts, lost, days, heardAt, now, letGo }: Parts): Forgetting {
  /** What it was last done for: the page is emptied once, and not again and again while somebody waits. */
  const doneFor = signal(0)
  const look = async () => {
    const known = await facts
    const hours = Math.min(...days.peek().map((day) => day.deviceHours ?? usualDeviceHours), usualDeviceHours)
    const heard = heardAt()
    if (heard === 0 || doneFor.peek() === heard || now() - heard <= hours * 3_600_000) return
    doneFor.value = heard
    await forget(store).catch(() => undefined)
    for (const name of Object.keys(known) as (keyof Facts)[]) delete known[name]
    letGo()
  }
  void look()
  setInterval(() => void look(), everyMs)
  return { forgotten: computed(() => doneFor.value > 0 && lost.value) }
}
