import type { LedgerReader } from '@musterbook/ledger/ledger'

/** The one clock of the house: everything in this process asks it, nothing asks the machine. */
export interface HouseClock {
  /** Epoch milliseconds. */
  now(): number
  /** 1, unless a rehearsal runs faster. */
  speed: number
  /** It does not tell the real time, so no real day is opened under it. */
  rehearsalOnly: boolean
}

interface Options {
  speed: number
  /** Where a rehearsal's clock starts, epoch ms; absent: now. */
  startsAt?: number | undefined
  /** What the ledger has written already: a clock that ran ahead does not run back after a restart. */
  notBefore: number
}

export function houseClock({ speed, startsAt, notBefore }: Options): HouseClock {
  if (speed === 1 && startsAt === undefined) return { now: () => Date.now(), speed: 1, rehearsalOnly: false }
  const from = Math.max(startsAt ?? Date.now(), notBefore)
  const begun = performance.now()
  return { now: () => Math.floor(from + (performance.now() - begun) * speed), speed, rehearsalOnly: true }
}

/** When the newest entry of any stream was recorded; 0 in an empty ledger. */
export async function newestRecordedAt(ledger: LedgerReader): Promise<number> {
  let newest = 0
  for (const { stream, version } of await ledger.streams(''))
    for await (const { recordedAt } of ledger.read(stream, version - 1)) newest = Math.max(newest, recordedAt)
  return newest
}
