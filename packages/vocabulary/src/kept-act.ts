import { z } from 'zod'
import { actTable, type ActName } from './act-table.ts'
import { Envelope } from './envelope.ts'
import { DayId, PersonId, SiteId } from './ids.ts'
import { TakeReading } from './site.ts'

/** Who acted, as the device knew: nobody, who had proven it by a PIN, or who signed on out of contact. */
export const KeptBy = z.strictObject({
  personId: PersonId.nullable(),
  signedOn: z.enum(['withPin', 'outOfContact']).nullable(),
})
export type KeptBy = z.infer<typeof KeptBy>

/** What a device kept while it could not tell it, as it is sent later: an act of the day. Words stand as they were typed. */
const KeptAct = z.strictObject({
  kind: z.literal('act'),
  dayId: DayId,
  act: z.enum(Object.keys(actTable) as [ActName, ...ActName[]]),
  by: KeptBy,
  envelope: Envelope,
  body: z.record(z.string(), z.unknown()),
})
/** A heat reading that was taken out of contact. */
const KeptReading = z.strictObject({
  kind: z.literal('reading'),
  siteId: SiteId,
  by: KeptBy,
  envelope: Envelope,
  body: TakeReading,
})
/** That somebody signed on out of contact, whatever they did then. */
const KeptSignOn = z.strictObject({
  kind: z.literal('signOn'),
  dayId: DayId,
  personId: PersonId,
  since: z.int().nonnegative(),
})

export const KeptItem = z.discriminatedUnion('kind', [KeptAct, KeptReading, KeptSignOn])
export type KeptItem = z.infer<typeof KeptItem>
