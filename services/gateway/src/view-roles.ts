import type { Role } from '@musterbook/vocabulary/people'

export const viewNames = ['station', 'board', 'public', 'safety', 'medical', 'record', 'inbox', 'floor', 'weighIn', 'day'] as const
export type ViewName = (typeof viewNames)[number]

const staff: readonly Role[] = ['greeter', 'screener', 'station', 'safety', 'supervisor', 'coordinator']
const reader: Role = 'auditor'

/**
 * Who may see which view. A locked staff device sees what it needs to stop people and to hear of a hold: bibs and states, no names and no records.
 * Views hold no health reasons; `medical` is nobody's but the screeners' all the same.
 */
export const mayView: Record<ViewName, 'enrolled' | readonly Role[]> = {
  station: [...staff, reader, 'device'],
  board: [...staff, reader],
  public: 'enrolled',
  safety: [...staff, reader, 'device'],
  medical: ['screener'],
  record: ['screener', 'station', 'safety', 'supervisor', 'coordinator', reader],
  inbox: ['supervisor', 'coordinator', reader],
  floor: [...staff, reader, 'kiosk'],
  weighIn: ['screener', 'station', 'supervisor', 'coordinator', reader],
  day: 'enrolled',
}

/** Who looks back at a whole day: its entries, its results, the cases about it. */
export const replayRoles: readonly Role[] = ['supervisor', 'coordinator', 'auditor']
