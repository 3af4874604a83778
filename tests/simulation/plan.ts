import { clock } from '@musterbook/day/controls'
import { Luck } from './luck.ts'

/** One thing that the seed lets happen; what comes of it follows from the day as it then stands. Steps can be left out one by one. */
export type PlannedStep = { readonly no: number; readonly at: number } & (
  | { readonly kind: 'turn'; readonly device: DeviceName }
  | { readonly kind: 'outOfContact' | 'hearsNothing' | 'backInContact'; readonly device: DeviceName }
  | { readonly kind: 'clockJumps'; readonly device: DeviceName; readonly ms: number }
  | { readonly kind: 'crash'; readonly when: 'now' | 'before' | 'after' }
)

export interface Plan {
  readonly seed: number
  readonly students: number
  readonly weather: 'mild' | 'hot' | 'storm'
  /** How often somebody presses what they should not, from 0 to 1. */
  readonly impatience: number
  /** Two servers write the same day. */
  readonly twoServers: boolean
  readonly opensAt: number
  readonly closesAt: number
  readonly endsAt: number
  readonly steps: readonly PlannedStep[]
}

/** Fourteen devices: as many as a test day of forty has. */
export const deviceNames = [
  'kiosk-1',
  'greeter-1',
  'medical-1',
  'medical-2',
  'scale-1',
  'agility-1',
  'reach-1',
  'bench-1',
  'bench-2',
  'track-1',
  'track-2',
  'safety-1',
  'supervisor-1',
  'office-1',
] as const
export type DeviceName = (typeof deviceNames)[number]

const second = 1_000
const minute = 60 * second

/** Seconds from one look at the screen to the next. */
const turnsEvery: Record<DeviceName, number> = {
  'kiosk-1': 12,
  'greeter-1': 25,
  'medical-1': 40,
  'medical-2': 40,
  'scale-1': 12,
  'agility-1': 12,
  'reach-1': 12,
  'bench-1': 14,
  'bench-2': 14,
  'track-1': 8,
  'track-2': 16,
  'safety-1': 20,
  'supervisor-1': 16,
  'office-1': 60,
}

/** The whole day of one seed. Fewer students make a shorter one. */
export function planOf(seed: number, students: number): Plan {
  const luck = new Luck('plan', seed)
  const opensAt = clock('08:00')
  const closesAt = opensAt + (50 + students * 2) * minute + luck.between(0, 20) * minute
  const sealBy = closesAt + (8 + students / 3) * minute
  const endsAt = sealBy + 12 * minute
  const weather = luck.one('mild', 'hot', 'hot', 'storm')
  const steps: Unnumbered[] = []
  for (const device of deviceNames) {
    const own = new Luck('turns', seed, device)
    const every = turnsEvery[device] * second
    for (let at = opensAt + own.between(1, every); at < endsAt; at += Math.round(every * (0.6 + 0.8 * own.next()))) {
      steps.push({ at, kind: 'turn', device })
    }
    steps.push(...outages(device, own, opensAt, endsAt))
  }
  for (let crashes = luck.between(0, 3); crashes > 0; crashes--) {
    steps.push({ at: luck.between(opensAt + minute, endsAt), kind: 'crash', when: luck.one('now', 'before', 'after') })
  }
  const inOrder = steps.sort((one, other) => one.at - other.at)
  return {
    seed,
    students,
    weather,
    impatience: luck.one(0.005, 0.02, 0.06),
    twoServers: luck.is(0.25),
    opensAt,
    closesAt,
    endsAt,
    steps: inOrder.map((step, no) => ({ ...step, no }) as PlannedStep),
  }
}

type Unnumbered = { at: number; kind: PlannedStep['kind']; device?: DeviceName; ms?: number; when?: 'now' | 'before' | 'after' }

function outages(device: DeviceName, luck: Luck, from: number, to: number): Unnumbered[] {
  const steps: Unnumbered[] = []
  for (let at = from + luck.between(0, 90) * minute; at < to; at += luck.between(20, 160) * minute) {
    const kind = luck.is(0.75) ? ('outOfContact' as const) : ('hearsNothing' as const)
    const back = at + luck.between(20, luck.is(0.6) ? 240 : 1_500) * second
    steps.push({ at, kind, device }, { at: back, kind: 'backInContact', device })
    at = back
  }
  if (luck.is(0.15)) {
    steps.push({ at: luck.between(from, to), kind: 'clockJumps', device, ms: luck.one(-1, 1) * luck.between(500, 600_000) })
  }
  return steps
}
