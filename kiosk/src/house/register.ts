import { effect, signal, type ReadonlySignal } from '@preact/signals'
import type { Equipment } from '@musterbook/vocabulary/office-events'
import type { Api } from '../live/api.ts'
import { keepFact, type Facts } from './facts.ts'
import type { Store } from './store.ts'

interface Parts {
  api: Api
  store: Promise<Store>
  facts: Promise<Partial<Facts>>
  lost: ReadonlySignal<boolean>
  /** Whoever is signed on: the register is theirs to read. */
  person: ReadonlySignal<string | undefined>
}

/** The register of equipment, from the first time that a screen wants it: as heard last, and kept for when the site is out of reach. */
export function openRegister({ api, store, facts, lost, person }: Parts): () => ReadonlySignal<readonly Equipment[] | undefined> {
  const register = signal<readonly Equipment[] | undefined>(undefined)
  let isWanted = false
  const want = () => {
    isWanted = true
    void facts.then((kept) => (register.value ??= kept.equipment))
    effect(() => {
      if (lost.value || !person.value) return
      void api.get<Equipment[]>('/api/office/equipment').then((heard) => {
        if (heard.said !== 'recorded') return
        register.value = heard.body
        void keepFact(store, 'equipment', heard.body)
      })
    })
  }
  return () => {
    // Opened behind the screen that asks, whose own drawing must not follow what is asked here.
    if (!isWanted) queueMicrotask(want)
    return register
  }
}
