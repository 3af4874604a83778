/** What the browser tells of the tablet itself; undefined where it tells nothing. */
export interface Told {
  battery: { level: number; charging: boolean; dischargingTime: number } | undefined
  storage: { usage: number; quota: number } | undefined
  /** By how much the wall clock and the steady clock have parted since the site was last asked, ms. */
  clocksPartedMs: number
}

export type Caution =
  { kind: 'battery'; percent: number; minutesLeft: number | null } | { kind: 'storage' } | { kind: 'clocks'; seconds: number }

/** Told while there are twenty minutes left for a swap, and as many to find the other tablet. */
const swapMinutes = 40
const lowLevel = 0.2
const fullFrom = 0.8
const leastFreeBytes = 50_000_000
const partedMs = 1_000

/** What somebody should see to before it stops the station, the most urgent first. */
export function cautionsOf({ battery, storage, clocksPartedMs }: Told): Caution[] {
  return [...ofBattery(battery), ...ofClocks(clocksPartedMs), ...ofStorage(storage)]
}

function ofBattery(battery: Told['battery']): Caution[] {
  if (!battery || battery.charging) return []
  const minutesLeft = Number.isFinite(battery.dischargingTime) ? Math.floor(battery.dischargingTime / 60) : null
  const isLow = battery.level <= lowLevel || (minutesLeft !== null && minutesLeft <= swapMinutes)
  return isLow ? [{ kind: 'battery', percent: Math.round(battery.level * 100), minutesLeft }] : []
}

const ofClocks = (parted: number): Caution[] =>
  Math.abs(parted) > partedMs ? [{ kind: 'clocks', seconds: Math.round(Math.abs(parted) / 1000) }] : []

const ofStorage = (storage: Told['storage']): Caution[] =>
  storage && storage.quota > 0 && (storage.usage > fullFrom * storage.quota || storage.quota - storage.usage < leastFreeBytes)
    ? [{ kind: 'storage' }]
    : []
