import { z } from 'zod'
import type { By } from '@musterbook/vocabulary/envelope'
import { PersonId } from '@musterbook/vocabulary/ids'
import { officeRefusal } from '@musterbook/vocabulary/office-refusals'
import { officeNo } from './http/office-status.ts'
import type { HouseContext } from './http/route.ts'
import type { GatewayParts } from './parts.ts'
import { provePin } from './prove-pin.ts'

export const Countersign = z.strictObject({ personId: PersonId, pin: z.string().min(1).max(40) })
export type Countersign = z.infer<typeof Countersign>

/** A second person proves who they are with their own PIN, on the same device. That it is another person is for the act to say, since that is written down. */
export async function secondPerson(
  c: HouseContext,
  parts: GatewayParts,
  countersign: Countersign | undefined,
): Promise<{ countersigned: By['countersigned'] } | { no: Response }> {
  if (!countersign) return { countersigned: null }
  const proven = await provePin(c, parts, countersign)
  if ('refused' in proven) return { no: officeNo(c, proven.refused, { countersign: true }) }
  if (proven.person.pin === 'first') return { no: officeNo(c, officeRefusal('firstPin').refused, { countersign: true }) }
  return { countersigned: { personId: proven.person.personId, roles: proven.person.roles } }
}
