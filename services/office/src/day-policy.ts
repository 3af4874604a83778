import { everyoneCutsExertionFrom } from '@musterbook/heat/air'
import { frostbiteWithin30MinutesTenthsDegC } from '@musterbook/heat/cold'
import { DayRules } from '@musterbook/vocabulary/rules'
import { z } from 'zod'

const {
  contactAgeMs,
  witnessWindowMs,
  leapBirthday,
  lightningMinutes,
  airHoldFrom,
  coldHoldAtTenthsDegC,
  retestDays,
  briefing,
  deviceHours,
} = DayRules.shape

/**
 * What a site decides for its test days beside protocols, norms and heat. What else an adopted one says is passed over: days to answer a
 * case in once stood here, and stand in the policy of records.
 */
export const DayPolicy = z.object({
  id: z.string().min(1),
  edition: z.string(),
  source: z.string(),
  contactAgeMs,
  witnessWindowMs,
  leapBirthday,
  lightningMinutes,
  airHoldFrom,
  coldHoldAtTenthsDegC,
  retestDays,
  briefing,
  deviceHours,
})
export type DayPolicy = z.infer<typeof DayPolicy>

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
  leapBirthday: 'march1',
  lightningMinutes: 30,
  airHoldFrom: everyoneCutsExertionFrom,
  coldHoldAtTenthsDegC: frostbiteWithin30MinutesTenthsDegC,
  retestDays: 14,
  briefing: 'asked',
  deviceHours: 12,
}
