import { airCallsForHold } from '@musterbook/heat/air'
import { coldCallsForHold } from '@musterbook/heat/cold'
import type { SafetyView } from '@musterbook/day/views/safety'
import { figure } from '../words/figures.ts'
import { words } from '../words/words.ts'

export type AirOrCold = keyof SafetyView['holdsAt']

const observed: Record<AirOrCold, string> = { air: 'airIndex', cold: 'windChill' }

/** The last value of its kind that was seen after an instant. */
export const newestOf = ({ hazards }: SafetyView, kind: AirOrCold, after: number) =>
  hazards
    .filter((hazard) => hazard.kind === observed[kind] && hazard.at > after)
    .sort((one, other) => one.at - other.at)
    .at(-1)

/** By the site's own figure; without one a value calls for nothing by itself. */
export function callsForHold({ holdsAt }: SafetyView, kind: AirOrCold, value: number | null | undefined): boolean {
  const at = holdsAt[kind]
  if (at === null || value === null || value === undefined) return false
  return kind === 'air' ? airCallsForHold(value, at) : coldCallsForHold(value, at)
}

export function holdsAtSays({ holdsAt: { air, cold } }: SafetyView, kind: AirOrCold): string {
  if (kind === 'air') return air === null ? words.safety.holdsAt.none : words.safety.holdsAt.air(air)
  return cold === null ? words.safety.holdsAt.none : words.safety.holdsAt.cold(words.safety.degrees(cold, 'degC'))
}

export const valueSays = (kind: string, value: number | null): string =>
  value === null ? '' : kind === 'windChill' ? words.safety.degrees(value, 'degC') : figure(value)

export const hazardSays = (kind: string, value: number | null): string =>
  [words.safety.hazardKinds[kind] ?? kind, valueSays(kind, value)].filter(Boolean).join(' ')
