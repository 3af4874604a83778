import { z } from 'zod'
import { PersonId } from './ids.ts'

/** Lines as somebody typed them; no control characters but the line break. */
const Lines = (most: number) =>
  z
    .string()
    .trim()
    .min(1)
    .max(most)
    .regex(/^(?:\P{Cc}|\n)+$/u)

/** A site has one card: this is what it goes by among the rules. */
export const emergencyCardId = 'EC'

/** So many characters at most in each part: together they fit one page. */
export const emergencyCardLimits = {
  doFirst: 800,
  /** Phone numbers and radio channels. */
  call: 400,
  address: 200,
  /** Where the ambulance is met, and by which gate. */
  meetingPoint: 300,
  /** Where the defibrillator, the cooling and the first-aid things are. */
  equipment: 500,
  /** As the local clinician wrote it. */
  cooling: 600,
  hospital: 300,
  writtenBy: 120,
} as const
export type EmergencyCardWords = keyof typeof emergencyCardLimits

/** What a site does in an emergency, in its own words throughout: shown unedited, and none of it is ours. */
export const EmergencyCard = z.strictObject({
  edition: Lines(40),
  doFirst: Lines(emergencyCardLimits.doFirst),
  call: Lines(emergencyCardLimits.call),
  address: Lines(emergencyCardLimits.address),
  meetingPoint: Lines(emergencyCardLimits.meetingPoint),
  equipment: Lines(emergencyCardLimits.equipment),
  cooling: Lines(emergencyCardLimits.cooling).nullable(),
  hospital: Lines(emergencyCardLimits.hospital),
  writtenBy: Lines(emergencyCardLimits.writtenBy),
  writtenOn: z.iso.date(),
})
export type EmergencyCard = z.infer<typeof EmergencyCard>

/** The card that two people adopted, as a day pins it. */
export const PinnedEmergencyCard = z.strictObject({
  ...EmergencyCard.shape,
  proposedBy: PersonId,
  adoptedBy: PersonId,
  /** Local civil date of the site. */
  adoptedOn: z.iso.date(),
})
export type PinnedEmergencyCard = z.infer<typeof PinnedEmergencyCard>
