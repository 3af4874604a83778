import { z } from 'zod'
import { HoldId, PersonId, ReadingId, SiteId, ZoneId } from './ids.ts'
import { Measured } from './measured.ts'

/** A value of a thermometer: its unit fixed by the instrument. */
const Temperature = Measured.extend({ unit: z.enum(['tenthsDegC', 'tenthsDegF', 'hundredthsDegC', 'hundredthsDegF']) })

/** A reading as told by a person or an instrument. Always kept. */
export const TakeReading = z.strictObject({
  readingId: ReadingId,
  siteId: SiteId,
  zoneId: ZoneId,
  instrumentId: z.string().min(1).max(60),
  /** Components, or the index as the instrument shows it; at least one is given. */
  naturalWetBulb: Temperature.nullable(),
  globe: Temperature.nullable(),
  dryBulb: Temperature.nullable(),
  wbgt: Temperature.nullable(),
  sun: z.boolean(),
  wetBulbKind: z.enum(['natural', 'psychrometric', 'derived']),
  globeDiameterMm: z.int().min(10).max(300),
  settled: z.boolean(),
  /** The questions that were asked about it and kept: `reading-checks` names, and `settledEarly` where it was said sooner than an instrument settles. */
  confirmed: z.array(z.string().max(60)).max(20),
})
export type TakeReading = z.infer<typeof TakeReading>

/** An open day's own copy of what the site heard. `wbgtTenths` in the policy's unit, rounded once, computed once. */
export const ReadingTaken = z.strictObject({
  type: z.literal('readingTaken'),
  ...TakeReading.shape,
  readBy: PersonId.nullable(),
  wbgtTenths: z.int().nullable(),
  unit: z.enum(['degC', 'degF']),
  band: z.string(),
  usable: z.boolean(),
  /** Named questions that stand open: `confirm` checks that were not answered. */
  questions: z.array(z.string()),
  method: z.enum(['components', 'instrument', 'estimate']),
})
/** The hold that a reading calls for; open days put it into force under this id. */
export const HoldCalledFor = z.strictObject({
  type: z.literal('holdCalledFor'),
  holdId: HoldId,
  readingId: ReadingId,
  zoneId: ZoneId.nullable(),
  policyId: z.string(),
})
export const SiteEvent = z.discriminatedUnion('type', [ReadingTaken, HoldCalledFor])
export type SiteEvent = z.infer<typeof SiteEvent>
