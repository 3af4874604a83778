import { useEffect, useState } from 'preact/hooks'
import type { WeighInView } from '@musterbook/day/views/weigh-in'
import type { Equipment } from '@musterbook/vocabulary/office-events'
import type { House } from '../house/house.ts'

export type Scale = Equipment & { today: WeighInView['equipment'][number] | null }

/** Scales of the register, each with what the day knows of its checks. undefined until the register was heard. */
export function useScales(house: House, view: WeighInView): readonly Scale[] | undefined {
  const [register, heard] = useState<readonly Equipment[] | undefined>(undefined)
  useEffect(() => {
    void house.api.get<Equipment[]>('/api/office/equipment').then((said) => {
      if (said.said === 'recorded') heard(said.body)
    })
  }, [house])
  return register
    ?.filter(({ kind }) => kind === 'scale')
    .map((scale) => ({ ...scale, today: view.equipment.find(({ equipmentId }) => equipmentId === scale.equipmentId) ?? null }))
}
