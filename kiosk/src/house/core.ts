/** The day's own rules, loaded after the screen stands: what a device decides with while the site is out of reach. */
import type { DayEntry } from '@musterbook/day/evolve'
import type * as core from './core.ts'

export { emptyDay } from '@musterbook/day/day'
export { decide, neverOnDevice } from '@musterbook/day/decide'
export { evolve } from '@musterbook/day/evolve'
export { dayViews } from '@musterbook/day/views'
export { refusal } from '@musterbook/vocabulary/refusals'

export type Core = typeof core

/** An entry as the site tells it to a device, with its place in the chain. */
export interface CopiedEntry extends DayEntry {
  hash: string
  prevHash: string
}
