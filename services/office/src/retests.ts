import type { DayId, EntitlementId } from '@musterbook/vocabulary/ids'
import { DayOpened } from '@musterbook/vocabulary/opening'
import { RetestGranted } from '@musterbook/vocabulary/review'
import type { z } from 'zod'
import type { Desk } from './desk.ts'

export type Opening = Pick<z.infer<typeof DayOpened>, 'facts' | 'rules'>
export type GrantedRetest = Pick<z.infer<typeof RetestGranted>, 'studentId' | 'stationIds' | 'until'>

/** Finds an entitlement where it was granted: in the day's own stream, or in what came after its seal. */
export function grantedRetests({ ledger }: Desk) {
  return async (dayId: DayId, entitlementId: EntitlementId): Promise<GrantedRetest | undefined> => {
    for (const stream of [`day/${dayId}`, `after/${dayId}`]) {
      for await (const entry of ledger.read(stream, 0)) {
        for (const event of entry.events) {
          if (event.type === 'retestGranted' && event['entitlementId'] === entitlementId) return RetestGranted.parse(event)
        }
      }
    }
    return undefined
  }
}

/** What a day was opened with. */
export function openingsOfDays({ ledger }: Desk) {
  return async (dayId: DayId): Promise<Opening | undefined> => {
    for await (const entry of ledger.read(`day/${dayId}`, 0)) {
      for (const event of entry.events) if (event.type === 'dayOpened') return DayOpened.parse(event)
    }
    return undefined
  }
}
