import type { SafetyView } from '@musterbook/day/views/safety'
import type { House } from '../house/house.ts'

export interface Meter {
  equipmentId: string
  /** The unit that it reads in is its register's, and nobody types another. */
  unit: 'degC' | 'degF'
  /** Last civil date on which its calibration holds. */
  dueOn: string | null
  /** What the day knows of its checks; null: not checked today. */
  today: SafetyView['equipment'][number] | null
}

/** The site's meters, in contact or not. undefined until the register was heard once on this device. */
export const metersOf = (house: House, { equipment }: SafetyView): readonly Meter[] | undefined =>
  house
    .equipment()
    .value?.filter(({ kind }) => kind === 'wbgtMeter')
    .map(({ equipmentId, tolerance, dueOn }) => ({
      equipmentId,
      unit: tolerance?.unit.endsWith('DegF') ? 'degF' : 'degC',
      dueOn,
      today: equipment.find((check) => check.equipmentId === equipmentId) ?? null,
    }))
