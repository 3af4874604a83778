import type { DeviceId } from '@musterbook/vocabulary/ids'
import type { UnsentTold } from '@musterbook/vocabulary/office-events'
import type { RosterOf } from './day-roster.ts'
import type { GatewayParts } from './parts.ts'
import type { KeptItems } from './kept-items.ts'
import type { Sealing } from './sealing.ts'

/** The parts that came in, and what the gateway made of them once. */
export interface Tools extends GatewayParts {
  sealing: Sealing
  rosterOf: RosterOf
  kept: KeptItems
  /** What each device said last that it alone keeps: of this process, since it started. */
  unsent: Map<DeviceId, UnsentTold>
}
