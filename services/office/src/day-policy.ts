import { everyoneCutsExertionFrom } from '@musterbook/heat/air'
import { frostbiteWithin30MinutesTenthsDegC } from '@musterbook/heat/cold'
import { DayRules } from '@musterbook/vocabulary/rules'
import { z } from 'zod'

/** What of a day's rules a site decides beside protocols, norms and heat; anything else that stands beside it is left behind. */
export const SiteDecides = z.object(
  DayRules.pick({
    contactAgeMs: true,
    witnessWindowMs: true,
    twoPlacesWithinMs: true,
    leapBirthday: true,
    lightningMinutes: true,
    airHoldFrom: true,
    coldHoldAtTenthsDegC: true,
    retestDays: true,
    briefing: true,
    deviceHours: true,
  }).shape,
)

/** The site's decisions as it adopts them. A key that is not known here is refused by name: it would decide nothing. */
export const DayPolicy = z.strictObject({ id: z.string().min(1), edition: z.string(), source: z.string(), ...SiteDecides.shape })
export type DayPolicy = z.infer<typeof DayPolicy>

/** As one may have been adopted before: days to answer a case once stood here, and stand in the policy of records. */
const AdoptedDayPolicy = DayPolicy.extend({ answerDays: z.unknown().optional() })

/** An adopted policy as a day takes it, or the reasons why no day opens on it, as sentences. */
export function readDayPolicy(content: unknown): { policy: DayPolicy } | { wrong: string[] } {
  const read = AdoptedDayPolicy.safeParse(content)
  if (read.success) return { policy: read.data }
  return {
    wrong: read.error.issues.map((issue) =>
      issue.code === 'unrecognized_keys'
        ? `The rules of the day name ${issue.keys.join(', ')}, which is not known here: propose them without it.`
        : `The rules of the day do not say ${issue.path.join('.')} in a way that can be read: ${issue.message}.`,
    ),
  }
}

/**
 * Invented, for the demonstration. The half hour after thunder or a flash is common practice; air and cold take the figures at which their
 * sources warn everyone (US EPA air quality index; US National Weather Service wind chill).
 */
export const demoDayPolicy: DayPolicy = {
  id: 'DP-1',
  edition: 'invented, 1',
  source: 'Invented for the Skarnvale Mountain Rescue Academy',
  contactAgeMs: 300_000,
  witnessWindowMs: 60_000,
  twoPlacesWithinMs: 20_000,
  leapBirthday: 'march1',
  lightningMinutes: 30,
  airHoldFrom: everyoneCutsExertionFrom,
  coldHoldAtTenthsDegC: frostbiteWithin30MinutesTenthsDegC,
  retestDays: 14,
  briefing: 'asked',
  deviceHours: 12,
}
