import { z } from 'zod'
import { AttemptId, DeviceId, HoldId, PersonId, ReadingId, StationId, StudentId, WaveId, ZoneId } from './ids.ts'
import { SealedText } from './people.ts'

export const HoldKind = z.enum(['heat', 'lightning', 'air', 'cold', 'other'])
export type HoldKind = z.infer<typeof HoldKind>
/** null: the whole site's outdoor zones. */
export const Scope = ZoneId.nullable()
export const Disposition = z.enum(['stopAndWalkIn', 'finishThisLap', 'finishTheRun'])
export type Disposition = z.infer<typeof Disposition>

// Acts

export const RaiseHold = z.strictObject({ holdId: HoldId, kind: HoldKind, zoneId: Scope })
export const AcknowledgeHold = z.strictObject({ holdId: HoldId })
export const DisposeHold = z.strictObject({ holdId: HoldId, disposition: Disposition })
/** Thunder, a flash, a new air or cold value: restarts the clock of its kind or is the observation a lift needs. */
export const ObserveHazard = z.strictObject({
  kind: z.enum(['thunder', 'flash', 'airIndex', 'windChill']),
  zoneId: Scope,
  /** Air quality index, or wind chill in tenths of a degree Celsius; null for thunder and flash. */
  value: z.int().nullable(),
})
export const ProposeLift = z.strictObject({
  holdId: HoldId,
  /** The reading that it rests on, for heat. */
  readingId: ReadingId.nullable(),
  reason: SealedText.nullable(),
})
export const ConfirmLift = z.strictObject({ holdId: HoldId })
/** A device out of contact past its age: the safety officer's words over the radio, for one named wave or station and one contact-age period. */
export const ConfirmByRadio = z.strictObject({
  stationId: StationId,
  waveId: WaveId.nullable(),
  spokeTo: PersonId,
  words: SealedText,
})
/** A tablet is silent, and whoever stands there said over the radio that they heard the hold. It is not the tablet's own word. */
export const NoteHeardByRadio = z.strictObject({ holdId: HoldId, deviceId: DeviceId, saidBy: PersonId, words: SealedText.nullable() })
export const TakeHeadcount = z.strictObject({ zoneId: ZoneId, present: z.array(StudentId).max(200) })
/** Touched in a headcount that is under way, or taken back: on every device at once, and through a reload. */
export const SeeAtHeadcount = z.strictObject({ zoneId: ZoneId, studentIds: z.array(StudentId).min(1).max(200), seen: z.boolean() })

// Events

/** A reading of the site, in force for this day. Figures as the site's entry holds them. */
export const ReadingReceived = z.strictObject({
  type: z.literal('readingReceived'),
  readingId: ReadingId,
  zoneId: ZoneId,
  instrumentId: z.string(),
  readBy: PersonId.nullable(),
  /** Tenths of the policy's unit, rounded once. null when it could not be computed. */
  wbgtTenths: z.int().nullable(),
  unit: z.enum(['degC', 'degF']),
  band: z.string(),
  settled: z.boolean(),
  /** By its reader, before the instrument had stood as long as such an instrument needs. */
  saidSettledEarly: z.boolean().optional(),
  /** May count as fresh and may lift, as far as its own values go. */
  usable: z.boolean(),
  method: z.enum(['components', 'instrument', 'estimate']),
  wetBulbKind: z.enum(['natural', 'psychrometric', 'derived']),
  /** Version of the site's entry, so that this day knows how far it has read. */
  siteVersion: z.int().positive(),
  /** When it was read, best estimate in ledger time, and ±. */
  readAt: z.int(),
  bandMs: z.int().nonnegative(),
})
export const HoldRaised = z.strictObject({
  type: z.literal('holdRaised'),
  holdId: HoldId,
  kind: HoldKind,
  zoneId: Scope,
  raisedBy: z.enum(['person', 'device', 'policy', 'takenOver']),
  readingId: ReadingId.nullable(),
  /** Everyone under way in its zone at that moment, listed at once. */
  underWay: z.array(z.strictObject({ studentId: StudentId, attemptId: AttemptId, stationId: StationId, orderNotCertain: z.boolean() })),
})
export const HoldAcknowledged = z.strictObject({ type: z.literal('holdAcknowledged'), holdId: HoldId, deviceId: DeviceId })
export const HoldHeardByRadio = z.strictObject({ type: z.literal('holdHeardByRadio'), ...NoteHeardByRadio.shape })
export const HoldDisposed = z.strictObject({
  type: z.literal('holdDisposed'),
  holdId: HoldId,
  disposition: Disposition,
  studentIds: z.array(StudentId),
})
export const HazardObserved = z.strictObject({ type: z.literal('hazardObserved'), ...ObserveHazard.shape })
export const LiftProposed = z.strictObject({ type: z.literal('liftProposed'), ...ProposeLift.shape })
export const HoldLifted = z.strictObject({
  type: z.literal('holdLifted'),
  holdId: HoldId,
  proposedBy: PersonId,
  readingId: ReadingId.nullable(),
})
export const RadioConfirmed = z.strictObject({ type: z.literal('radioConfirmed'), ...ConfirmByRadio.shape, until: z.int() })
export const HeadcountTaken = z.strictObject({
  type: z.literal('headcountTaken'),
  ...TakeHeadcount.shape,
  /** Expected there and not among the present. */
  missing: z.array(StudentId),
})
export const SeenAtHeadcount = z.strictObject({ type: z.literal('seenAtHeadcount'), ...SeeAtHeadcount.shape })
