import type { Limit } from '@musterbook/vocabulary/clearance'
import type { PinnedStation } from '@musterbook/vocabulary/rules'
import type { Clearance, Student } from './day.ts'

const severity = { cleared: 0, limited: 1, notToday: 2, withdrawn: 3 } as const

/** Of clearances that stand side by side the strictest governs, and the limits of all of them hold. */
export function governing(standing: readonly Clearance[]): Student['clearance'] {
  if (standing.length === 0) return { status: 'pending', limits: [] }
  const status = standing
    .map((clearance) => clearance.status)
    .reduce((strictest, next) => (severity[next] > severity[strictest] ? next : strictest))
  return { status, limits: standing.flatMap((clearance) => clearance.limits) }
}

/** Stations at which these limits allow nothing, whatever the reason. */
export function barredBy(limits: readonly Limit[], stations: readonly PinnedStation[]): string[] {
  const bars = (limit: Limit, station: PinnedStation) =>
    (limit.kind === 'notAtStation' && limit.stationId === station.stationId) ||
    (limit.kind === 'noMaximalLift' && station.protocol.kind === 'loaded' && station.protocol.maximalEffort) ||
    (limit.kind === 'walkOnly' && station.protocol.maximalEffort && station.protocol.kind !== 'loaded')
  return stations.filter((station) => limits.some((limit) => bars(limit, station))).map((station) => station.stationId)
}
