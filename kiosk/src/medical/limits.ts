import type { MedicalView } from '@musterbook/day/views/medical'
import type { Limit } from '@musterbook/vocabulary/clearance'
import type { StationId } from '@musterbook/vocabulary/ids'
import { words } from '../words/words.ts'

/** Every limit that a gate of this day can apply by itself. */
export const limitsOf = ({ stations }: MedicalView): Limit[] => [
  { kind: 'noMaximalLift' },
  { kind: 'walkOnly' },
  { kind: 'withObserver' },
  ...stations.map(({ stationId }) => ({ kind: 'notAtStation' as const, stationId: stationId as StationId })),
]

export const keyOf = (limit: Limit): string => (limit.kind === 'notAtStation' ? `not at ${limit.stationId}` : limit.kind)

export function sayLimit(limit: Limit, { stations }: Pick<MedicalView, 'stations'>): string {
  if (limit.kind !== 'notAtStation') return words.medical[limit.kind]
  return words.medical.notAt(stations.find(({ stationId }) => stationId === limit.stationId)?.name ?? limit.stationId)
}
