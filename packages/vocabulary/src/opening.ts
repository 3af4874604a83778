import { z } from 'zod'
import { BriefingId, ClassId, DayId, EntitlementId, EquipmentId, PersonId, StationId, StudentId } from './ids.ts'
import { Measured } from './measured.ts'
import { Language, NormGroup, SealedText } from './people.ts'
import { DayFacts, DayRules } from './rules.ts'

export const Expected = z.strictObject({
  studentId: StudentId,
  classId: ClassId,
  normGroup: NormGroup,
  language: Language,
  /** Comes on a retest entitlement: only these stations, until that civil date, scored by the rules of that earlier day. */
  retest: z.strictObject({ entitlementId: EntitlementId, dayId: DayId, stationIds: z.array(StationId), until: z.iso.date() }).nullable(),
})
export type Expected = z.infer<typeof Expected>

// Acts

export const OpenDay = z.strictObject({ facts: DayFacts, rules: DayRules, expected: z.array(Expected).max(400) })
export const AssignStaff = z.strictObject({
  personId: PersonId,
  stationId: StationId,
  /** Is the person listed as qualified there? Filled in by the gateway from the office's list. */
  qualified: z.boolean(),
  /** A supervisor may accept somebody who is not listed, with a reason. */
  acceptedBecause: SealedText.nullable(),
})
export const ReleaseStaff = z.strictObject({ personId: PersonId, stationId: StationId })
export const CheckEquipment = z.strictObject({
  equipmentId: EquipmentId,
  passed: z.boolean(),
  reference: Measured.nullable(),
  read: Measured.nullable(),
})
export const BriefClass = z.strictObject({
  briefingId: BriefingId,
  studentIds: z.array(StudentId).min(1).max(400),
  stationIds: z.array(StationId).min(1).max(20),
  language: Language,
})

// Events

export const DayOpened = z.strictObject({ type: z.literal('dayOpened'), facts: DayFacts, rules: DayRules })
export const StudentExpected = z.strictObject({ type: z.literal('studentExpected'), ...Expected.shape, walkIn: z.boolean() })
export const StaffAssigned = z.strictObject({ type: z.literal('staffAssigned'), ...AssignStaff.shape })
export const StaffReleased = z.strictObject({ type: z.literal('staffReleased'), ...ReleaseStaff.shape })
/** A failed check blocks the equipment until a later one passes. */
export const EquipmentChecked = z.strictObject({ type: z.literal('equipmentChecked'), ...CheckEquipment.shape })
/** Who was briefed, on which version of which protocol. When and by whom stands in the entry. */
export const ClassBriefed = z.strictObject({
  type: z.literal('classBriefed'),
  briefingId: BriefingId,
  studentIds: z.array(StudentId),
  protocols: z.array(z.strictObject({ stationId: StationId, protocolId: z.string(), version: z.int() })),
  language: Language,
})
