import { signal, type ReadonlySignal } from '@preact/signals'
import type { Envelope } from '@musterbook/vocabulary/envelope'

/** The device's clocks as they stood at one moment; never rewritten afterwards. */
export type Times = Pick<Envelope, 'occurredAt' | 'steadyMs' | 'steadyOf' | 'offsetMs' | 'bandMs'>

/** The band said while the site was never asked: a day either way, so that nothing can be ordered on it. */
const neverMeasuredBandMs = 86_400_000

/** How far a device's clock may run off meanwhile: fifty parts in a million, from memory for a plain quartz. */
const drift = 50e-6

export interface Clock {
  /** Asks the site for the time, a few times, and keeps the answer that took least. Answers false when the site was not heard. */
  measure(): Promise<boolean>
  times(): Times
  /** The site's time as this device knows it. Without a measurement, the device's own. */
  siteNow(): number
  /** The site's time, told about once a second of it. For what is shown, never for what is recorded. */
  now: ReadonlySignal<number>
  /** Steady milliseconds of the site's day: for stopwatches. Runs at the speed of a rehearsal as everything else does. */
  steady(): number
  /** 1, unless a rehearsal runs faster. */
  speed: ReadonlySignal<number>
  /** The device's clock minus the site's, as last measured. */
  offsetMs: ReadonlySignal<number | undefined>
  bandMs: ReadonlySignal<number | undefined>
  /** Since the last measurement the wall clock and the steady clock have parted by this much: somebody set the clock, or the device slept. */
  disagreementMs(): number
  /** What another start of this device needs to go on without asking; nothing while the site was never asked. */
  remembered(): Remembered | undefined
  /** Starts telling `now`; the answer stops it. */
  run(): () => void
}

/** The site's clock against the device's wall clock, as last measured. */
export interface Remembered {
  site: number
  wall: number
  speed: number
  bandMs: number
}

export interface ClockParts {
  /** From the last start of this device: the wall clock has run on, the steady one began anew. */
  remembered?: Remembered | undefined
  /** Where the time is asked. It answers `{now, speed}`: epoch milliseconds, and 1 or a rehearsal's speed. */
  url?: string
  fetch?: typeof fetch
  wall?: () => number
  steady?: () => number
  /** Which steady clock that is: it begins anew with each page. */
  steadyOf?: string
  samples?: number
}

interface Anchor {
  site: number
  steady: number
  wall: number
}

export function openClock(parts: ClockParts = {}): Clock {
  const {
    url = '/api/clock',
    wall = () => Date.now(),
    steady = () => performance.now(),
    // On plain http too, where a browser makes no UUID.
    steadyOf = crypto.getRandomValues(new Uint32Array(2)).join('-'),
    samples = 5,
  } = parts
  const send = parts.fetch ?? ((...request: Parameters<typeof fetch>) => fetch(...request))
  const offsetMs = signal<number | undefined>(undefined)
  const bandMs = signal<number | undefined>(undefined)
  const speed = signal(1)
  let anchor: Anchor | undefined
  if (parts.remembered) {
    const { site, wall: then, speed: times, bandMs: band } = parts.remembered
    const passed = wall() - then
    anchor = { site: site + passed * times, steady: steady(), wall: wall() }
    speed.value = times
    offsetMs.value = times === 1 ? Math.round(then - site) : 0
    bandMs.value = Math.ceil(band + Math.abs(passed) * drift * times)
  }

  const siteNow = () => (anchor ? anchor.site + (steady() - anchor.steady) * speed.value : wall())
  const now = signal(siteNow())

  const measure = async () => {
    let best: { anchor: Anchor; roundTrip: number; speed: number } | undefined
    for (let i = 0; i < samples; i++) {
      const sent = steady()
      const answer = await askTime(send, url)
      if (!answer) continue
      const heard = steady()
      const roundTrip = heard - sent
      if (best && roundTrip >= best.roundTrip) continue
      // The site read its clock somewhere between sending and hearing: the middle, give or take half.
      best = {
        anchor: { site: answer.now, steady: sent + roundTrip / 2, wall: wall() - roundTrip / 2 },
        roundTrip,
        speed: answer.speed,
      }
    }
    if (!best) return false
    anchor = best.anchor
    speed.value = best.speed
    // In a rehearsal that runs faster, the device keeps the rehearsal's clock: its own would be wrong by more every second.
    offsetMs.value = best.speed === 1 ? Math.round(anchor.wall - anchor.site) : 0
    bandMs.value = Math.ceil((best.roundTrip / 2) * best.speed) + 1
    now.value = siteNow()
    return true
  }

  return {
    measure,
    siteNow,
    now,
    speed,
    offsetMs,
    bandMs,
    steady: () => steady() * speed.value,
    times: () => ({
      occurredAt: Math.round(speed.value === 1 ? wall() : siteNow()),
      steadyMs: Math.round(steady() * speed.value),
      steadyOf,
      offsetMs: offsetMs.value ?? 0,
      bandMs: bandMs.value ?? neverMeasuredBandMs,
    }),
    disagreementMs: () => (anchor ? Math.round(wall() - anchor.wall - (steady() - anchor.steady)) : 0),
    remembered: () =>
      anchor && bandMs.value !== undefined ? { site: anchor.site, wall: anchor.wall, speed: speed.value, bandMs: bandMs.value } : undefined,
    run: () => {
      const timer = setInterval(() => (now.value = siteNow()), 1000 / Math.min(4, Math.max(1, speed.value)))
      return () => clearInterval(timer)
    },
  }
}

async function askTime(send: typeof fetch, url: string): Promise<{ now: number; speed: number } | undefined> {
  try {
    const response = await send(url, { cache: 'no-store', signal: AbortSignal.timeout(5_000) })
    if (!response.ok) return undefined
    const { now, speed } = (await response.json()) as { now?: unknown; speed?: unknown }
    if (typeof now !== 'number' || !Number.isFinite(now)) return undefined
    return { now, speed: typeof speed === 'number' && speed > 0 ? speed : 1 }
  } catch {
    return undefined
  }
}
