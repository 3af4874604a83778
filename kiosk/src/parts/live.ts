import type { ReadonlySignal } from '@preact/signals'

/** A value, or a signal of it. A part that takes one renders again on its own when it moves, and its parent does not. */
export type Live<T> = T | ReadonlySignal<T>

export function read<T>(live: Live<T>): T {
  return isSignal(live) ? live.value : live
}

function isSignal<T>(live: Live<T>): live is ReadonlySignal<T> {
  return typeof live === 'object' && live !== null && 'peek' in live && 'subscribe' in live
}
