import { z } from 'zod'
import { StationId, StudentId } from './ids.ts'
import { Countersigned, SealedText } from './people.ts'

const Hash = z.string().regex(/^[0-9a-f]{64}$/)

// Acts

/** Closes the day. What comes later stands in `after/`. */
export const SealDay = z.strictObject({ acceptOpenReviews: SealedText.nullable() })
/** Countersigned; the sealed stream stays as it is. */
export const Reopen = z.strictObject({ reason: SealedText })

// Events

export const DaySealed = z.strictObject({
  type: z.literal('daySealed'),
  openReviews: z.int().nonnegative(),
  acceptOpenReviews: SealedText.nullable(),
})
/** First entry of `after/<dayId>`: carries the seal that it follows. */
export const AfterOpened = z.strictObject({ type: z.literal('afterOpened'), sealedVersion: z.int().positive(), sealedHash: Hash })
export const Reopened = z.strictObject({ type: z.literal('reopened'), reason: SealedText, countersigned: Countersigned })

/** A permission was asked for and refused. Somebody may dispute it, so it is kept. */
export const ActRefused = z.strictObject({
  type: z.literal('actRefused'),
  act: z.string(),
  rule: z.string(),
  params: z.record(z.string(), z.union([z.string(), z.number()])),
  studentId: StudentId.nullable(),
  stationId: StationId.nullable(),
})
