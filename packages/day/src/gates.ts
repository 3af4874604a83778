import { refusal, type Params, type Rule } from '@musterbook/vocabulary/refusals'
import type { PinnedStation } from '@musterbook/vocabulary/rules'
import type { Day, Student } from './day.ts'
import { reasonsAgainst, restOverAt } from './attempt/may-start.ts'
import { readingAge } from '@musterbook/heat/hold-policy'
import type { HeatPolicy } from '@musterbook/heat/policies'
import { isOutdoors, zoneOf, holdOver } from './day.ts'

/** One condition of a start, as the panel shows it. `unknown` blocks as `notMet` does. */
export interface Gate {
  gate:
    | 'checkedIn'
    | 'clearance'
    | 'stop'
    | 'warmUp'
    | 'bodyMass'
    | 'coolDown'
    | 'hold'
    | 'reading'
    | 'tries'
    | 'rest'
    | 'equipment'
    | 'briefing'
    | 'free'
    | 'entitlement'
  state: 'met' | 'notMet' | 'unknown'
  /** The rule of the refusal it would give, and what its sentence names: a screen says it in its own language. Null when met. */
  rule: Rule | null
  params: Params
  /** The same as the site says it. */
  says: string | null
  next: string | null
  who: string | null
  /** For what runs out by itself: a rest, a reading. Epoch ms. */
  until: number | null
}

const gateOf: Record<string, Gate['gate']> = {
  notCheckedIn: 'checkedIn',
  withdrawn: 'checkedIn',
  afterSignOff: 'checkedIn',
  stopped: 'stop',
  healthEventOpen: 'stop',
  notCleared: 'clearance',
  observerNeeded: 'clearance',
  warmUpMissing: 'warmUp',
  bodyMassMissing: 'bodyMass',
  coolDownDue: 'coolDown',
  holdInForce: 'hold',
  noReading: 'reading',
  readingStale: 'reading',
  siteUnread: 'reading',
  triesUsed: 'tries',
  restNotOver: 'rest',
  equipmentBlocked: 'equipment',
  notBriefed: 'briefing',
  otherUnderWay: 'free',
  calledElsewhere: 'free',
  noRetestThere: 'entitlement',
  entitlementEnded: 'entitlement',
}

const met = { state: 'met' as const, rule: null, params: {}, says: null, next: null, who: null }
const unknown = new Set<string>(['noReading', 'siteUnread'])

/**
 * Every gate of one student at one station: the same reasons that decide a start, so that the panel never promises what
 * the day would refuse. What runs out by itself, a rest or a reading, is not asked here: `until` says when, and the screen
 * holds it against its clock (a rest is met after it, a reading before it).
 */
export function gatesOf(day: Day, student: Student, station: PinnedStation): Gate[] {
  const at = Number.MAX_SAFE_INTEGER
  const envelope = { occurredAt: at, offsetMs: 0, bandMs: 0, contactAgeMs: 0, decidedOnDevice: false }
  const now = { recordedAt: at, siteVersionRead: day.siteVersion, siteHead: day.siteVersion }
  const observerId = 'named' as never
  const reasons = reasonsAgainst({ day, student, station, official: true, envelope, observerId, early: false, now }).filter(
    (reason) => reason.rule !== 'readingStale',
  )
  return asked(day, student, station).map((gate) => {
    const reason = reasons.find((one) => gateOf[one.rule] === gate)
    if (!reason) return { gate, ...met, until: untilOf(gate, day, student, station) }
    const { rule, params, says, next, who } = refusal(reason.rule, reason.params)
    return { gate, state: unknown.has(rule) ? ('unknown' as const) : ('notMet' as const), rule, params, says, next, who, until: null }
  })
}

/** Which gates a station asks of this student at all. */
function asked(day: Day, student: Student, station: PinnedStation): Gate['gate'][] {
  const { prerequisites } = station.protocol
  const outdoor = isOutdoors(day, station)
  const policy = day.opened?.rules.heatPolicy as HeatPolicy | null | undefined
  return [
    'checkedIn',
    'stop',
    'clearance',
    ...(student.retest ? (['entitlement'] as const) : []),
    ...(prerequisites.includes('warmUp') ? (['warmUp'] as const) : []),
    ...(prerequisites.includes('bodyMass') ? (['bodyMass'] as const) : []),
    ...(outdoor || holdOver(day, station) ? (['hold'] as const) : []),
    ...(outdoor && policy?.readingsNeeded ? (['reading'] as const) : []),
    'coolDown',
    'equipment',
    'tries',
    ...(station.protocol.minimumRestMs > 0 ? (['rest'] as const) : []),
    ...(day.opened?.rules.briefing === 'required' ? (['briefing'] as const) : []),
    'free',
  ]
}

const untilOf = (gate: Gate['gate'], day: Day, student: Student, station: PinnedStation): number | null =>
  gate === 'reading' ? readingUntil(day) : gate === 'rest' ? restOverAt(student, station) : null

function readingUntil(day: Day): number | null {
  const policy = day.opened?.rules.heatPolicy as HeatPolicy | null | undefined
  if (!policy) return null
  const outdoors = day.readings.filter((reading) => zoneOf(day, reading.zoneId)?.outdoor)
  const age = readingAge(outdoors, policy, Number.MAX_SAFE_INTEGER)
  return 'reading' in age ? age.reading.readAt + policy.readingAgeMinutes * 60_000 : null
}

/** Cleared for this station and nothing of their own in the way: what a caller at a station wants to know first. */
export const isReady = (gates: readonly Gate[]): boolean =>
  gates.every((gate) => gate.state === 'met' || gate.gate === 'rest' || gate.gate === 'hold' || gate.gate === 'reading')
