import { z } from 'zod'

const id = <Name extends string>(name: Name) =>
  z
    .string()
    .regex(/^[A-Za-z0-9][A-Za-z0-9_.:@-]{0,95}$/, `${name}: letters, digits and _ . : @ -, at most 96`)
    .brand<Name>()

export const CommandId = id('CommandId')
export type CommandId = z.infer<typeof CommandId>
export const DayId = id('DayId')
export type DayId = z.infer<typeof DayId>
export const SiteId = id('SiteId')
export type SiteId = z.infer<typeof SiteId>
export const ZoneId = id('ZoneId')
export type ZoneId = z.infer<typeof ZoneId>
export const StationId = id('StationId')
export type StationId = z.infer<typeof StationId>
export const StudentId = id('StudentId')
export type StudentId = z.infer<typeof StudentId>
export const PersonId = id('PersonId')
export type PersonId = z.infer<typeof PersonId>
export const DeviceId = id('DeviceId')
export type DeviceId = z.infer<typeof DeviceId>
export const EquipmentId = id('EquipmentId')
export type EquipmentId = z.infer<typeof EquipmentId>
export const ClassId = id('ClassId')
export type ClassId = z.infer<typeof ClassId>
export const AttemptId = id('AttemptId')
export type AttemptId = z.infer<typeof AttemptId>
export const ObservationId = id('ObservationId')
export type ObservationId = z.infer<typeof ObservationId>
export const WaveId = id('WaveId')
export type WaveId = z.infer<typeof WaveId>
export const HoldId = id('HoldId')
export type HoldId = z.infer<typeof HoldId>
export const ReadingId = id('ReadingId')
export type ReadingId = z.infer<typeof ReadingId>
export const ClearanceId = id('ClearanceId')
export type ClearanceId = z.infer<typeof ClearanceId>
export const ReferralId = id('ReferralId')
export type ReferralId = z.infer<typeof ReferralId>
export const ReviewId = id('ReviewId')
export type ReviewId = z.infer<typeof ReviewId>
export const CorrectionId = id('CorrectionId')
export type CorrectionId = z.infer<typeof CorrectionId>
export const EntitlementId = id('EntitlementId')
export type EntitlementId = z.infer<typeof EntitlementId>
export const BriefingId = id('BriefingId')
export type BriefingId = z.infer<typeof BriefingId>
export const TextId = id('TextId')
export type TextId = z.infer<typeof TextId>

/** What stands on a badge of staff: it chooses a name and proves nobody. No PIN and no bib looks like it. */
export const BadgeNumber = z
  .string()
  .regex(/^B[0-9]{7}$/)
  .brand<'BadgeNumber'>()
export type BadgeNumber = z.infer<typeof BadgeNumber>

/** What a runner or lifter wears: one to four digits. */
export const Bib = z.string().regex(/^[0-9]{1,4}$/)
export type Bib = z.infer<typeof Bib>
