import type { WeighInView } from '@musterbook/day/views/weigh-in'
import type { Equipment } from '@musterbook/vocabulary/office-events'
import type { House } from '../house/house.ts'

export type Scale = Equipment & { today: WeighInView['equipment'][number] | null }

/** Scales of the register, each with what the day knows of its checks. undefined until the register was heard. */
export const scalesOf = (house: House, view: WeighInView): readonly Scale[] | undefined =>
  house
    .equipment()
    .value?.filter(({ kind }) => kind === 'scale')
    .map((scale) => ({ ...scale, today: view.equipment.find(({ equipmentId }) => equipmentId === scale.equipmentId) ?? null }))
