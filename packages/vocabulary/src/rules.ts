import { z } from 'zod'
import { PinnedEmergencyCard } from './emergency-card.ts'
import { DayId, EquipmentId, SiteId, StationId, ZoneId } from './ids.ts'

export const StationKind = z.enum(['skinfold', 'timed', 'measured', 'loaded', 'counted', 'run'])
export type StationKind = z.infer<typeof StationKind>

/**
 * A station's protocol as the day pinned it. What gates a start is named here; the measuring rules of its kind
 * (`packages/stations` holds their type) ride along unread.
 */
export const PinnedProtocol = z.looseObject({
  protocolId: z.string().min(1).max(80),
  version: z.int().positive(),
  kind: StationKind,
  name: z.string().min(1).max(80),
  tries: z.int().positive().max(20),
  betterIs: z.enum(['higher', 'lower']),
  unit: z.string(),
  prerequisites: z.array(z.enum(['warmUp', 'bodyMass'])),
  outdoor: z.boolean(),
  maximalEffort: z.boolean(),
  minimumRestMs: z.int().nonnegative(),
})
export type PinnedProtocol = z.infer<typeof PinnedProtocol>

export const PinnedStation = z.strictObject({
  stationId: StationId,
  zoneId: ZoneId,
  protocol: PinnedProtocol,
  /** Equipment that stands at the station: a blocked one blocks it. */
  equipmentIds: z.array(EquipmentId),
})
export type PinnedStation = z.infer<typeof PinnedStation>

export const Zone = z.strictObject({ zoneId: ZoneId, name: z.string().min(1).max(60), outdoor: z.boolean() })
export type Zone = z.infer<typeof Zone>

/** The heat policy as the day pinned it; bands and bounds ride along for `packages/heat`. */
export const PinnedHeatPolicy = z.looseObject({
  id: z.string().min(1).max(60),
  edition: z.string(),
  citation: z.string(),
  unit: z.enum(['degC', 'degF']),
})

/** Everything that decides a day, pinned when it opens. Later edits never change a past day. */
export const DayRules = z.strictObject({
  /** The code's own rule set: which decide and fold belong to this day. */
  ruleSet: z.literal('muster-1'),
  rulesVersion: z.int().positive(),
  stations: z.array(PinnedStation).min(1).max(20),
  zones: z.array(Zone).min(1).max(20),
  heatPolicy: PinnedHeatPolicy.nullable(),
  /** Norm tables, whole, in the form of `packages/scoring`. */
  norms: z.array(z.looseObject({ id: z.string(), edition: z.string() })),
  /** The site's own minimum, a policy apart from percentiles; null where it has none. */
  standard: z.looseObject({ id: z.string() }).nullable(),
  /** An outdoor start needs contact with the ledger at most this old, ms. Maximal lifts too. */
  contactAgeMs: z.int().positive(),
  /** Observations of one try further apart than this are never paired without a person, ms. */
  witnessWindowMs: z.int().positive(),
  /** A bib that is seen in two zones closer together than this is asked about, ms. Left out, nobody is. */
  twoPlacesWithinMs: z.int().positive().optional(),
  leapBirthday: z.enum(['march1', 'february28']),
  lightningMinutes: z.int().positive(),
  /** Air quality index from which the site holds outdoors. Left out, no figure stands: a lift then needs a written reason beside an observation. */
  airHoldFrom: z.int().min(1).max(500).optional(),
  /** Wind chill, tenths of a degree Celsius, at which and below which the site holds outdoors. Left out as above. */
  coldHoldAtTenthsDegC: z.int().min(-800).max(200).optional(),
  retestDays: z.int().positive(),
  /** Must a class be briefed before its first official try? Asked for, or required. */
  briefing: z.enum(['asked', 'required']),
  /** How long a device keeps its copy of the day, and who signed on there may sign on without contact, hours. Days pinned before say nothing: `usualDeviceHours`. */
  deviceHours: z.int().positive().max(72).optional(),
  /** Absent: the site had adopted none, or the day was pinned before there were any. */
  emergencyCard: PinnedEmergencyCard.optional(),
})
/** A working day with its journey home: where a site's rules say nothing. */
export const usualDeviceHours = 12
export type DayRules = z.infer<typeof DayRules>

export const DayFacts = z.strictObject({
  dayId: DayId,
  siteId: SiteId,
  /** Local civil date of the site. */
  date: z.iso.date(),
  /** IANA name. */
  timeZone: z.string().min(1).max(60),
  /** The site's offset from UTC on that date, so that a clock time can be said without a time zone table. */
  utcOffsetMinutes: z.int().min(-840).max(840),
  title: z.string().min(1).max(120),
  /** A rehearsal never mixes with real records and looks different. A server whose clock runs at another speed opens nothing else. */
  rehearsal: z.boolean(),
})
export type DayFacts = z.infer<typeof DayFacts>
