import type { PersonId } from '@musterbook/vocabulary/ids'
import type { Person, Said } from '@musterbook/vocabulary/office'
import type { OfficeRule } from '@musterbook/vocabulary/office-refusals'
import type { HouseContext } from './http/route.ts'
import type { GatewayParts } from './parts.ts'

const because: Partial<Record<OfficeRule, 'wrongPin' | 'waiting'>> = { wrongPin: 'wrongPin', tooManyTries: 'waiting' }

/** Asks the office whether this is the person, and writes down when it is not. */
export async function provePin(
  c: HouseContext,
  { office, access }: GatewayParts,
  { personId, pin }: { personId: PersonId; pin: string },
): Promise<Said<{ person: Person }>> {
  const { deviceId } = c.var.who.device!
  const said = await office.provePerson(personId, pin, deviceId)
  if ('refused' in said) await access.tell({ type: 'signOnRefused', personId, deviceId, because: because[said.refused.rule] ?? 'unknown' })
  return said
}
