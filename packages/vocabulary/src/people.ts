import { z } from 'zod'
import { PersonId, TextId } from './ids.ts'

/** Who somebody is on a test day. `device`: an enrolled device with nobody signed on; it may stop a student and raise a hold. */
export const Role = z.enum(['kiosk', 'greeter', 'screener', 'station', 'safety', 'supervisor', 'coordinator', 'auditor', 'device'])
export type Role = z.infer<typeof Role>

/** Free text that a person typed lies sealed beside the names; the ledger holds only this. */
export const SealedText = z.strictObject({ textId: TextId, digest: z.string().regex(/^[0-9a-f]{64}$/) })
export type SealedText = z.infer<typeof SealedText>

/** Whose norms apply, as registered for that purpose: not a statement about gender. `ageYears`: completed years on the test date. */
export const NormGroup = z.strictObject({ sex: z.enum(['M', 'W']), ageYears: z.int().min(10).max(99) })
export type NormGroup = z.infer<typeof NormGroup>

export const Language = z.enum(['en', 'es', 'ar'])
export type Language = z.infer<typeof Language>

/** A second, different person who agreed. Proven by their own PIN at the gateway. */
export const Countersigned = z.strictObject({ personId: PersonId })
