import { begin, machinesOf, stateOf, type Machines, type StudentSnapshot, type StudentState } from '@musterbook/student/machine'
import { happenedAt } from '@musterbook/vocabulary/envelope'
import type { ClearanceStatus, Limit } from '@musterbook/vocabulary/clearance'
import type { DayEventOf } from '@musterbook/vocabulary/events'
import type {
  AttemptId,
  Bib,
  ClearanceId,
  DayId,
  DeviceId,
  EntitlementId,
  EquipmentId,
  HoldId,
  ObservationId,
  PersonId,
  ReferralId,
  ReviewId,
  StationId,
  StudentId,
  WaveId,
  ZoneId,
} from '@musterbook/vocabulary/ids'
import { Growing } from './growing.ts'
import type { Measured } from '@musterbook/vocabulary/measured'
import type { Expected } from '@musterbook/vocabulary/opening'
import type { NormGroup } from '@musterbook/vocabulary/people'
import type { About, Change, ReviewReason, Ruling } from '@musterbook/vocabulary/review'
import type { DayFacts, DayRules, PinnedStation, Zone } from '@musterbook/vocabulary/rules'

/** When something happened, by the device's clock as it stood, and how far the day may trust it. */
export interface Times {
  occurredAt: number
  offsetMs: number
  bandMs: number
  steadyMs: number | null
  /** Which steady clock that is; absent where the device did not say. */
  steadyOf?: string
  deviceId: DeviceId
  recordedAt: number
}

/** Who told it, and where it stands. */
export interface Told extends Times {
  version: number
  commandId: string
  personId: PersonId | null
}

/** A whole test day as its entries tell it so far. Never changed in place: each entry gives the next one. */
export interface Day {
  readonly dayId: DayId
  readonly version: number
  /** Of `after/`; 0 while nothing came after the seal. */
  readonly afterVersion: number
  readonly opened: { facts: DayFacts; rules: DayRules; machines: Machines; at: number } | null
  readonly sealed: { version: number; at: number } | null
  readonly reopened: boolean
  readonly students: ReadonlyMap<StudentId, Student>
  readonly bibs: ReadonlyMap<Bib, StudentId>
  readonly waves: ReadonlyMap<WaveId, Wave>
  readonly holds: ReadonlyMap<HoldId, Hold>
  readonly readings: Growing<DayEventOf<'readingReceived'>>
  /** Version of the site's stream up to which this day has its readings. */
  readonly siteVersion: number
  readonly hazards: Growing<{ kind: DayEventOf<'hazardObserved'>['kind']; zoneId: ZoneId | null; value: number | null; told: Told }>
  readonly radio: ReadonlyMap<StationId, { until: number; waveId: WaveId | null; spokeTo: PersonId; told: Told }>
  readonly headcounts: ReadonlyMap<ZoneId, { present: readonly StudentId[]; missing: readonly StudentId[]; told: Told }>
  /** Who was touched last as seen, or taken back, by zone. */
  readonly headsSeen: ReadonlyMap<ZoneId, ReadonlyMap<StudentId, { seen: boolean; told: Told }>>
  readonly staff: ReadonlyMap<StationId, readonly { personId: PersonId; accepted: boolean }[]>
  readonly equipment: ReadonlyMap<EquipmentId, EquipmentState>
  readonly reviews: ReadonlyMap<ReviewId, Review>
  /** Devices that told this day anything, and when the ledger last heard them. */
  readonly devices: ReadonlyMap<DeviceId, { lastHeardAt: number; offsetMs: number; bandMs: number; lastSequence: number }>
  readonly refusals: Growing<{
    version: number
    act: string
    rule: string
    studentId: StudentId | null
    stationId: StationId | null
    at: number
    personId: PersonId | null
  }>
  readonly prompts: Growing<{ event: DayEventOf<'promptAnswered'>; told: Told }>
  /** What was recorded and does not fit the shape of the day: shown, never swallowed. */
  readonly anomalies: Growing<{ version: number; type: string; studentId: StudentId | null }>
  /** From kiosks and boards, not yet answered. */
  readonly calls: ReadonlyMap<string, { deviceId: DeviceId; at: number }>
  readonly firstEffortAt: number | null
}

export interface Student extends Omit<Expected, 'normGroup'> {
  readonly normGroup: NormGroup
  readonly walkIn: boolean
  readonly machine: StudentSnapshot
  readonly bib: Bib | null
  readonly checkedInAt: number | null
  readonly late: boolean
  readonly clearances: readonly Clearance[]
  readonly clearance: { status: ClearanceStatus; limits: readonly Limit[] }
  readonly weighIns: readonly WeighIn[]
  readonly warmUpAt: number | null
  readonly queue: readonly { stationId: StationId; since: number }[]
  readonly calledTo: { stationId: StationId; since: number } | null
  readonly attempts: readonly Attempt[]
  readonly stop: Stop | null
  readonly stopCount: number
  readonly referrals: readonly Referral[]
  /** Reported and not yet cleared by a screener. */
  readonly healthEvent: boolean
  readonly briefed: readonly StationId[]
  readonly entitlements: readonly Entitlement[]
  readonly coolDownAt: number | null
  readonly coolDownExcused: boolean
  readonly signedOffAt: number | null
  readonly changed: number
  /** What stood when: an attempt that is told of afterwards is held against the day as it was. Instants in ledger time. */
  readonly past: {
    readonly clearances: readonly { at: number; status: ClearanceStatus; barred: readonly string[] }[]
    readonly stops: readonly Span[]
    readonly coolDowns: readonly Span[]
  }
}

/** `until`: null while it lasts. */
export interface Span {
  readonly since: number
  readonly until: number | null
}

export interface Clearance {
  clearanceId: ClearanceId
  status: 'cleared' | 'limited' | 'notToday' | 'withdrawn'
  limits: readonly Limit[]
  personId: PersonId | null
  at: number
}
export interface WeighIn {
  observationId: string
  mass: Measured
  scaleId: EquipmentId
  at: number
  afterEffort: boolean
  /** Told after the seal: counts only by ruling. */
  afterSeal: boolean
}
export interface Stop {
  since: number
  zoneId: ZoneId | null
  reason: DayEventOf<'studentStopped'>['reason']
  attemptId: AttemptId | null
  told: Told
  namedAs: PersonId | null
  answers: readonly { answer: 'acknowledged' | 'arrived'; at: number; personId: PersonId | null }[]
}
export interface Referral {
  referralId: ReferralId
  to: 'screener' | 'clinician' | 'ambulance'
  at: number
  answered: { outcome: 'cleared' | 'limited' | 'notToday'; at: number } | null
}
export interface Entitlement {
  entitlementId: EntitlementId
  stationIds: readonly StationId[]
  until: string
  because: DayEventOf<'retestGranted'>['because']
  at: number
}

export interface Attempt {
  readonly attemptId: AttemptId
  readonly studentId: StudentId
  readonly stationId: StationId
  readonly official: boolean
  readonly number: number
  readonly load: Measured | null
  readonly equipmentIds: readonly EquipmentId[]
  readonly waveId: WaveId | null
  readonly readingId: string | null
  readonly started: Told | null
  readonly observations: readonly Observation[]
  readonly taps: readonly LapTap[]
  readonly finish: { elapsedMs: number; laps: number; told: Told } | null
  /** When it was over, whichever way; null while it is under way, or when nobody saw it start. */
  readonly endedAt: number | null
  readonly status: 'underWay' | 'recorded' | 'interrupted' | 'released' | 'reassigned' | 'void'
  readonly interruptedBy: { by: 'hold' | 'medicalStop' | 'withdrawal'; holdId: HoldId | null } | null
  readonly extra: boolean
  readonly differenceAcknowledged: boolean
  readonly ruling: Ruling | null
  readonly reviewIds: readonly ReviewId[]
  readonly corrections: readonly Correction[]
  /** How often it was changed: what a screen must have seen before it changes it again. */
  readonly revision: number
}
export interface Observation {
  readonly event: DayEventOf<'resultRecorded'>
  readonly told: Told
}
export interface LapTap {
  readonly observationId: ObservationId
  readonly elapsedMs: number
  readonly inferred: boolean
  readonly witnessId: PersonId | null
  readonly ignored: DayEventOf<'crossingRecorded'>['ignored'] | 'takenBack'
  readonly fromPaper?: true
  /** Of the sheet that it was written on. */
  readonly sheetPhoto?: string
  readonly told: Told
}
export interface Correction {
  readonly correctionId: string
  readonly change: Change
  readonly told: Told
  readonly countersigned: PersonId | null
}

export interface Wave {
  readonly waveId: WaveId
  readonly stationId: StationId
  readonly studentIds: readonly StudentId[]
  readonly official: boolean
  readonly underHold: HoldId | null
  readonly gun: Told
  /** Set when another tablet than the gun's carries it on. */
  readonly takenOver: Told | null
}

export interface Hold {
  readonly holdId: HoldId
  readonly kind: DayEventOf<'holdRaised'>['kind']
  readonly zoneId: ZoneId | null
  readonly raisedBy: DayEventOf<'holdRaised'>['raisedBy']
  readonly readingId: string | null
  readonly raised: Told
  readonly underWay: DayEventOf<'holdRaised'>['underWay']
  readonly heard: ReadonlyMap<DeviceId, { at: number; personId: PersonId | null }>
  /** Said over the radio for a tablet, which itself has acknowledged nothing by it. Absent until somebody has. */
  readonly heardByRadio?: ReadonlyMap<DeviceId, { at: number; saidBy: PersonId; notedBy: PersonId | null }>
  readonly disposed: { disposition: DayEventOf<'holdDisposed'>['disposition']; studentIds: readonly StudentId[]; at: number } | null
  readonly proposal: { by: PersonId; readingId: string | null; at: number } | null
  readonly lifted: { at: number; by: PersonId | null } | null
}

export interface EquipmentState {
  readonly blocked: boolean
  readonly lastGoodAt: number | null
  readonly checks: Growing<{ event: DayEventOf<'equipmentChecked'>; at: number }>
}

export interface Review {
  readonly reviewId: ReviewId
  readonly because: ReviewReason
  readonly about: About
  readonly opened: Told
  /** Asked behind the seal. */
  readonly afterSeal: boolean
  readonly ruled: { ruling: Ruling; by: PersonId | null; at: number } | null
}

export const emptyDay = (dayId: DayId): Day => ({
  dayId,
  version: 0,
  afterVersion: 0,
  opened: null,
  sealed: null,
  reopened: false,
  students: new Map(),
  bibs: new Map(),
  waves: new Map(),
  holds: new Map(),
  readings: Growing.of(),
  siteVersion: 0,
  hazards: Growing.of(),
  radio: new Map(),
  headcounts: new Map(),
  headsSeen: new Map(),
  staff: new Map(),
  equipment: new Map(),
  reviews: new Map(),
  devices: new Map(),
  refusals: Growing.of(),
  prompts: Growing.of(),
  anomalies: Growing.of(),
  calls: new Map(),
  firstEffortAt: null,
})

/** Every field by name and in one order: students of one shape are copied sooner, and each entry copies one. */
export const newStudent = (
  { studentId, classId, normGroup, language, retest }: Expected,
  walkIn: boolean,
  machines: Machines,
): Student => ({
  studentId,
  classId,
  normGroup,
  language,
  retest,
  walkIn,
  machine: begin(machines),
  bib: null,
  checkedInAt: null,
  late: false,
  clearances: [],
  clearance: { status: 'pending', limits: [] },
  weighIns: [],
  warmUpAt: null,
  queue: [],
  calledTo: null,
  attempts: [],
  stop: null,
  stopCount: 0,
  referrals: [],
  healthEvent: false,
  briefed: [],
  entitlements: [],
  coolDownAt: null,
  coolDownExcused: false,
  signedOffAt: null,
  changed: 0,
  past: { clearances: [], stops: [], coolDowns: [] },
})

export const machinesFor = (rules: DayRules): Machines => machinesOf(rules.stations)

export const stationOf = (day: Pick<Day, 'opened'>, stationId: StationId): PinnedStation | undefined =>
  day.opened?.rules.stations.find((station) => station.stationId === stationId)

export const zoneOf = (day: Day, zoneId: ZoneId): Zone | undefined => day.opened?.rules.zones.find((zone) => zone.zoneId === zoneId)

export const shape = (student: Student): StudentState => stateOf(student.machine)

/** The attempt that a student is in now. One student is in one attempt at a time. */
export const attemptUnderWay = (student: Student): Attempt | undefined => student.attempts.find((attempt) => attempt.status === 'underWay')

/** Out of contact two tablets may each have started one: what ends an attempt ends both. */
export const attemptsUnderWay = (student: Student | undefined): Attempt[] =>
  student?.attempts.filter((attempt) => attempt.status === 'underWay') ?? []

/** A protocol that is run outdoors, or any that stands in an outdoor zone today. */
export const isOutdoors = (day: Day, station: PinnedStation): boolean =>
  station.protocol.outdoor || (zoneOf(day, station.zoneId)?.outdoor ?? false)

/** The holds in force over this station. A hold on the whole site covers what is outdoors. */
export const holdsOver = (day: Day, station: PinnedStation): Hold[] =>
  [...day.holds.values()].filter((hold) => !hold.lifted && covers(day, hold, station))

export const holdOver = (day: Day, station: PinnedStation): Hold | undefined => holdsOver(day, station)[0]

export const covers = (day: Day, hold: Pick<Hold, 'zoneId'>, station: PinnedStation): boolean =>
  hold.zoneId === null ? isOutdoors(day, station) : hold.zoneId === station.zoneId

/** The first hold that stood over this station at some instant from `from` to `to`; what cannot be ordered stood. */
export function heldDuring(day: Day, station: PinnedStation, from: number, to: number): Hold | undefined {
  return [...day.holds.values()].find(
    (hold) => covers(day, hold, station) && happenedAt(hold.raised) - hold.raised.bandMs <= to && (!hold.lifted || hold.lifted.at >= from),
  )
}

export const openReviews = (day: Day): Review[] => [...day.reviews.values()].filter((review) => !review.ruled)

/** What people call a student aloud. */
export const called = (student: Student): string => student.bib ?? student.studentId

/** HH:MM at the site, for an instant in ledger time. */
export function clockTime(day: Day, instant: number): string {
  const minutes = Math.floor(instant / 60_000) + (day.opened?.facts.utcOffsetMinutes ?? 0)
  const ofDay = ((minutes % 1440) + 1440) % 1440
  return `${String(Math.floor(ofDay / 60)).padStart(2, '0')}:${String(ofDay % 60).padStart(2, '0')}`
}
