import type { EquipmentId } from '@musterbook/vocabulary/ids'
import type { Office } from '@musterbook/vocabulary/office'
import { type Equipment, EquipmentEvent } from '@musterbook/vocabulary/office-events'
import { officeRefusal } from '@musterbook/vocabulary/office-refusals'
import { type Book, book } from './book.ts'
import { changedSince } from './changed-since.ts'
import type { Desk } from './desk.ts'
import { having, without } from './with.ts'

type State = ReadonlyMap<EquipmentId, Equipment>
export type EquipmentBook = Book<State, EquipmentEvent>

export const equipmentBook = (desk: Desk): EquipmentBook =>
  book<State, EquipmentEvent>(desk, { name: 'equipment', schema: EquipmentEvent, empty: new Map(), evolve })

function evolve(state: State, event: EquipmentEvent): State {
  if (event.type === 'equipmentRetired') return without(state, event.equipmentId)
  const { type: _, ...equipment } = event
  return having(state, equipment.equipmentId, equipment)
}

/** Scales, calipers, boxes, watches, bars and meters: where each stands, how far off a check may be, until when its calibration holds. */
export function equipment(
  book: EquipmentBook,
  siteId: () => Promise<string>,
): Pick<Office, 'equipment' | 'registerEquipment' | 'changeEquipment' | 'retireEquipment'> {
  return {
    equipment: async () => [...(await book.read(await siteId())).state.values()],
    registerEquipment: async (body, told) => {
      const written = await book.write(await siteId(), 'registerEquipment', body, told, (state) =>
        state.has(body.equipmentId) ? officeRefusal('equipmentExists') : [{ type: 'equipmentRegistered', ...body }],
      )
      return 'refused' in written ? written : { equipmentId: body.equipmentId }
    },
    changeEquipment: async (body, told) => {
      const { seen, ...item } = body
      const written = await book.write(await siteId(), 'changeEquipment', body, told, (state) => {
        const now = state.get(item.equipmentId)
        if (!now) return officeRefusal('noSuchEquipment')
        return changedSince(now, seen) ?? [{ type: 'equipmentChanged', ...item }]
      })
      return 'refused' in written ? written : { equipmentId: body.equipmentId }
    },
    retireEquipment: async (body, told) => {
      const written = await book.write(await siteId(), 'retireEquipment', body, told, (state) =>
        state.has(body.equipmentId) ? [{ type: 'equipmentRetired', equipmentId: body.equipmentId }] : officeRefusal('noSuchEquipment'),
      )
      return 'refused' in written ? written : { equipmentId: body.equipmentId }
    },
  }
}
