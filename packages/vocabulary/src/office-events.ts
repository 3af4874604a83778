import { z } from 'zod'
import { BadgeNumber, ClassId, DeviceId, EquipmentId, PersonId, SiteId, StationId, StudentId, ZoneId } from './ids.ts'
import { Countersigned, Language, Role, SealedText } from './people.ts'
import { ErasureReason } from './records.ts'
import { StationKind } from './rules.ts'

// What the office keeps of its own nouns. No name, birth date, PIN or health word stands in any of them.

export const DevicePurpose = z.enum(['kiosk', 'board', 'staff'])
export type DevicePurpose = z.infer<typeof DevicePurpose>

/** `until`: last civil date on which it holds; null: without end. */
export const Qualification = z.strictObject({ stationId: StationId, until: z.iso.date().nullable() })
export type Qualification = z.infer<typeof Qualification>

export const PeopleEvent = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('personAdded'), personId: PersonId, roles: z.array(Role) }),
  z.strictObject({ type: z.literal('personRenamed'), personId: PersonId }),
  z.strictObject({ type: z.literal('rolesChanged'), personId: PersonId, roles: z.array(Role) }),
  z.strictObject({ type: z.literal('qualified'), personId: PersonId, ...Qualification.shape }),
  z.strictObject({ type: z.literal('qualificationEnded'), personId: PersonId, stationId: StationId }),
  /** `own`: typed by the person, so that nobody else knows it. */
  z.strictObject({ type: z.literal('pinSet'), personId: PersonId, own: z.boolean() }),
  z.strictObject({ type: z.literal('personLeft'), personId: PersonId }),
  /** The badge before it, if there was one, is good for nothing from then on. */
  z.strictObject({ type: z.literal('badgeMade'), personId: PersonId, badge: BadgeNumber }),
  z.strictObject({ type: z.literal('badgeTakenBack'), personId: PersonId, badge: BadgeNumber }),
])
export type PeopleEvent = z.infer<typeof PeopleEvent>

/** What a device said that it alone keeps, and when that was said, epoch ms of the ledger's clock. */
export const UnsentTold = z.strictObject({ acts: z.int().nonnegative(), photos: z.int().nonnegative(), at: z.int() })
export type UnsentTold = z.infer<typeof UnsentTold>

export const DevicesEvent = z.discriminatedUnion('type', [
  z.strictObject({
    type: z.literal('deviceInvited'),
    deviceId: DeviceId,
    name: z.string(),
    purpose: DevicePurpose,
    stationId: StationId.nullable(),
    expiresAt: z.int(),
  }),
  z.strictObject({ type: z.literal('deviceEnrolled'), deviceId: DeviceId }),
  z.strictObject({ type: z.literal('deviceRevoked'), deviceId: DeviceId }),
  /** Lost or stolen: it shows nothing more, and goes on telling what it keeps. `unsentShown`: what whoever locked it saw of that. */
  z.strictObject({
    type: z.literal('deviceLocked'),
    deviceId: DeviceId,
    personId: PersonId,
    at: z.int(),
    reason: z.string(),
    unsentShown: UnsentTold.nullable(),
  }),
  z.strictObject({ type: z.literal('deviceUnlocked'), deviceId: DeviceId, reason: z.string() }),
])
export type DevicesEvent = z.infer<typeof DevicesEvent>

/** One lap along the measured line, and how far the start stands behind the finish line. */
export const MeasuredTrack = z.strictObject({ lapMm: z.int().min(10_000).max(10_000_000), startOffsetMm: z.int().min(0).max(10_000_000) })
export const PlacedZone = z.strictObject({
  zoneId: ZoneId,
  name: z.string().min(1).max(60),
  outdoor: z.boolean(),
  track: MeasuredTrack.nullable(),
  shelter: z.string().max(120).nullable(),
  coolingPoint: z.string().max(120).nullable(),
})
export type PlacedZone = z.infer<typeof PlacedZone>
export const PlacedStation = z.strictObject({
  stationId: StationId,
  name: z.string().min(1).max(60),
  zoneId: ZoneId,
  kind: StationKind,
  /** The protocol that runs there; only an adopted one opens a day. */
  protocolId: z.string().min(1).max(80).nullable(),
})
export type PlacedStation = z.infer<typeof PlacedStation>

export const VenueEvent = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('siteSetUp'), siteId: SiteId, name: z.string(), timeZone: z.string() }),
  z.strictObject({ type: z.literal('zonePlaced'), ...PlacedZone.shape }),
  z.strictObject({ type: z.literal('zoneRemoved'), zoneId: ZoneId }),
  z.strictObject({ type: z.literal('stationPlaced'), ...PlacedStation.shape }),
  z.strictObject({ type: z.literal('stationRemoved'), stationId: StationId }),
])
export type VenueEvent = z.infer<typeof VenueEvent>

export const Equipment = z.strictObject({
  equipmentId: EquipmentId,
  name: z.string().min(1).max(80),
  kind: z.enum(['scale', 'caliper', 'box', 'stopwatch', 'barAndPlates', 'tape', 'wbgtMeter', 'other']),
  /** Where it stands; null: it is carried, or shared. */
  stationId: StationId.nullable(),
  /** How far a check may be off, in the words and unit of the register: whole numbers of `unit`. */
  tolerance: z.strictObject({ amount: z.int().nonnegative(), unit: z.string().min(1).max(30) }).nullable(),
  /** Last civil date on which its calibration holds. */
  dueOn: z.iso.date().nullable(),
  /** For a sit-and-reach box: where zero lies from the soles. */
  footLineMm: z.int().min(0).max(1000).nullable(),
})
export type Equipment = z.infer<typeof Equipment>
export const EquipmentEvent = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('equipmentRegistered'), ...Equipment.shape }),
  z.strictObject({ type: z.literal('equipmentChanged'), ...Equipment.shape }),
  z.strictObject({ type: z.literal('equipmentRetired'), equipmentId: EquipmentId }),
])
export type EquipmentEvent = z.infer<typeof EquipmentEvent>

export const NormSex = z.enum(['M', 'W'])
export type NormSex = z.infer<typeof NormSex>

export const ClassEvent = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('classNamed'), classId: ClassId, name: z.string() }),
  z.strictObject({ type: z.literal('studentEnrolled'), studentId: StudentId, normSex: NormSex, language: Language }),
  /** Name, code or language as the office registers them; what is personal lies beside the ledger. */
  z.strictObject({ type: z.literal('studentChanged'), studentId: StudentId, language: Language }),
  z.strictObject({ type: z.literal('studentLeft'), studentId: StudentId }),
])
export type ClassEvent = z.infer<typeof ClassEvent>

export const StudentEvent = z.discriminatedUnion('type', [
  z.strictObject({
    type: z.literal('normSexCorrected'),
    studentId: StudentId,
    from: NormSex,
    to: NormSex,
    reason: SealedText,
    countersigned: Countersigned,
  }),
  /** The date itself lies beside the ledger. */
  z.strictObject({ type: z.literal('birthDateCorrected'), studentId: StudentId, reason: SealedText, countersigned: Countersigned }),
  z.strictObject({ type: z.literal('erasureAsked'), studentId: StudentId, because: ErasureReason, askedBy: PersonId }),
  z.strictObject({ type: z.literal('erasureWithdrawn'), studentId: StudentId }),
  /** The student’s keys are discarded after this: from then on only the pseudonym is known. */
  z.strictObject({ type: z.literal('recordErased'), studentId: StudentId, confirmedBy: PersonId }),
])
export type StudentEvent = z.infer<typeof StudentEvent>

export const RuleKind = z.enum([
  'protocol',
  'norms',
  'heatPolicy',
  'standard',
  'dayPolicy',
  'healthQuestions',
  'recordsPolicy',
  'emergencyCard',
])
export type RuleKind = z.infer<typeof RuleKind>

export const RulesEvent = z.discriminatedUnion('type', [
  /** The whole content stands here, so that what two people adopted can always be read again. */
  z.strictObject({
    type: z.literal('adoptionProposed'),
    proposalId: z.string(),
    kind: RuleKind,
    id: z.string(),
    edition: z.string(),
    contentDigest: z.string(),
    content: z.looseObject({}),
    proposedBy: PersonId,
  }),
  z.strictObject({ type: z.literal('adopted'), proposalId: z.string(), adoptedBy: PersonId }),
  z.strictObject({ type: z.literal('proposalWithdrawn'), proposalId: z.string() }),
  z.strictObject({ type: z.literal('adoptionEnded'), kind: RuleKind, id: z.string() }),
])
export type RulesEvent = z.infer<typeof RulesEvent>
