import { z } from 'zod'
import { CommandId, DayId, DeviceId, PersonId, StudentId } from './ids.ts'
import { Role, SealedText } from './people.ts'

/** One emergency opening of health data: what a later review names. */
export const OpeningId = z.string().regex(/^[A-Za-z0-9][A-Za-z0-9_.:@-]{0,95}$/)

export const SignedOn = z.strictObject({ type: z.literal('signedOn'), personId: PersonId, deviceId: DeviceId })
/** `waiting`: too many tries, the PIN was not even looked at. `unknown`: no such person signs on here. */
export const SignOnRefused = z.strictObject({
  type: z.literal('signOnRefused'),
  personId: PersonId,
  deviceId: DeviceId,
  because: z.enum(['wrongPin', 'waiting', 'unknown']),
})
/** Chosen from those who had signed on at this device within the policy's hours; no PIN was asked. Told when contact came back. */
export const SignedOnOutOfContact = z.strictObject({
  type: z.literal('signedOnOutOfContact'),
  personId: PersonId,
  deviceId: DeviceId,
  /** The device's clock, corrected by its measured offset. */
  since: z.int(),
})
export const SignedOff = z.strictObject({
  type: z.literal('signedOff'),
  personId: PersonId,
  deviceId: DeviceId,
  because: z.enum(['asked', 'locked', 'relief', 'revoked']),
})

/** A screener opened somebody's answers or notes. Written before anything is shown. */
export const HealthOpened = z.strictObject({
  type: z.literal('healthOpened'),
  personId: PersonId,
  deviceId: DeviceId,
  studentId: StudentId,
  dayId: DayId.nullable(),
})
/** Somebody of another role opened it in an emergency. Written before anything is shown, and waits for a review by somebody else. */
export const HealthOpenedInEmergency = z.strictObject({
  type: z.literal('healthOpenedInEmergency'),
  openingId: OpeningId,
  personId: PersonId,
  roles: z.array(Role),
  deviceId: DeviceId,
  studentId: StudentId,
  dayId: DayId.nullable(),
  reason: SealedText,
})
export const EmergencyOpeningReviewed = z.strictObject({
  type: z.literal('emergencyOpeningReviewed'),
  openingId: OpeningId,
  personId: PersonId,
  finding: z.enum(['accepted', 'notAccepted']),
  note: SealedText.nullable(),
})
/** Somebody asked for what their role does not do. `needs`: the roles that may. */
export const RoleRefused = z.strictObject({
  type: z.literal('roleRefused'),
  personId: PersonId.nullable(),
  roles: z.array(Role),
  deviceId: DeviceId.nullable(),
  asked: z.string().min(1).max(200),
  needs: z.array(Role),
  /** Health data was asked for: the screener sees this one. */
  health: z.boolean(),
  studentId: StudentId.nullable(),
})

/** Somebody looked at who would move under other rules, over whole days. Of the record itself nothing changed. */
export const StudyMade = z.strictObject({
  type: z.literal('studyMade'),
  personId: PersonId,
  deviceId: DeviceId,
  dayIds: z.array(DayId).min(1).max(1_000),
  /** Names and versions of what was supposed to be in force. */
  rules: z.array(z.string().min(1).max(200)).min(1).max(20),
})

/** Why an item that a device had kept could not be told to its day. */
export const UnreadBecause = z.enum([
  'notUnderstood',
  'unknownDay',
  'notSignedOnThere',
  'outsideRole',
  'commandIdReused',
  'notDecidedThere',
])
export type UnreadBecause = z.infer<typeof UnreadBecause>

/** An item that the site could not read, whole: the words lie sealed beside the names. It waits for a person. */
export const ItemKept = z.strictObject({
  type: z.literal('itemKept'),
  number: z.int().positive(),
  personId: PersonId.nullable(),
  deviceId: DeviceId,
  because: UnreadBecause,
  /** What of it could be read. */
  commandId: CommandId.nullable(),
  act: z.string().max(60).nullable(),
  /** Of the bytes as they came: the same item told twice is kept once. */
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
  item: SealedText,
})
/** Somebody has looked at it and done what was to be done: the device may let go of its own. */
export const ItemSettled = z.strictObject({
  type: z.literal('itemSettled'),
  number: z.int().positive(),
  personId: PersonId,
  deviceId: DeviceId,
})

/** What a device could not send itself was brought in by hand. Each act keeps its own envelope; this says who carried them. */
export const ItemsCarried = z.strictObject({
  type: z.literal('itemsCarried'),
  personId: PersonId,
  deviceId: DeviceId,
  fromDeviceId: DeviceId,
  items: z.int().nonnegative(),
  /** Of the items as they lay in the file or the codes. */
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
})

/** What `access/<siteId>` may hold. The gateway is its only writer. */
export const AccessEvent = z.discriminatedUnion('type', [
  SignedOn,
  SignedOnOutOfContact,
  SignOnRefused,
  SignedOff,
  HealthOpened,
  HealthOpenedInEmergency,
  EmergencyOpeningReviewed,
  RoleRefused,
  StudyMade,
  ItemKept,
  ItemSettled,
  ItemsCarried,
])
export type AccessEvent = z.infer<typeof AccessEvent>

/** Where the office tells of an opening before it opens: it waits until the event is in the record. */
export type AccessLog = (event: AccessEvent) => Promise<void>
