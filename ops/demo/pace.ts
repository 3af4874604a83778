/** Time as the site tells it. The driver waits on it and never asks the machine for the hour. */
export interface Pace {
  now(): number
  sleep(ms: number): Promise<void>
  until(at: number): Promise<void>
}

export function paceOf(clock: { now: number; speed: number }): Pace {
  const heard = performance.now()
  const now = () => Math.floor(clock.now + (performance.now() - heard) * clock.speed)
  const sleep = (ms: number) => new Promise<void>((resolve) => setTimeout(resolve, Math.max(0, ms / clock.speed)))
  return { now, sleep, until: (at) => sleep(at - now()) }
}

/** A desk, a bench, a tester: so many people at once, in the order they came. */
export class Desk {
  private free: number
  private readonly line: (() => void)[] = []

  constructor(places: number) {
    this.free = places
  }

  async while<Result>(work: () => Promise<Result>): Promise<Result> {
    if (this.free > 0) this.free -= 1
    else await new Promise<void>((resolve) => this.line.push(resolve))
    try {
      return await work()
    } finally {
      const next = this.line.shift()
      if (next) next()
      else this.free += 1
    }
  }
}
