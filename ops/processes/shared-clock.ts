import type { HouseClock } from '../clock.ts'

interface Options {
  speed: number
  /** Where a rehearsal's clock starts, epoch ms. */
  startsAt?: number | undefined
  /** The machine's time at which it started there, epoch ms: every process is given the same. */
  since?: number | undefined
}

/**
 * One clock for processes that do not share one: each computes it from its machine's time, so machines keep theirs by a time server. Unlike
 * the clock of a house in one process it goes on while processes end and start.
 */
export function sharedClock({ speed, startsAt, since }: Options): HouseClock {
  if (speed === 1 && startsAt === undefined) return { now: () => Date.now(), speed: 1, rehearsalOnly: false }
  if (startsAt === undefined || since === undefined) {
    throw new Error('A rehearsal over NATS needs --at and --since, the same for every process: where its clock started, and when.')
  }
  return { now: () => Math.floor(startsAt + (Date.now() - since) * speed), speed, rehearsalOnly: true }
}
