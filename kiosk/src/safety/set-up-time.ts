import { keepText } from '../house/kept-text.ts'

/** When an instrument was last set up at its place, kept on this device through restarts. Epoch ms of the site's clock. */
export function setUpAt(instrumentId: string): number | undefined {
  const kept = Number(localStorage.getItem(keyOf(instrumentId)))
  return Number.isFinite(kept) && kept > 0 ? kept : undefined
}

export const setUpNow = (instrumentId: string, now: number): void => keepText(keyOf(instrumentId), String(Math.round(now)))

const keyOf = (instrumentId: string) => `musterbook.instrument.${instrumentId}`
