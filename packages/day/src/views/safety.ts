import type { HeatPolicy } from '@musterbook/heat/policies'
import { happenedAt } from '@musterbook/vocabulary/envelope'
import type { ZoneId } from '@musterbook/vocabulary/ids'
import { attemptUnderWay, isOutdoors, shape, stationOf, zoneOf, type Attempt, type Day, type Hold, type Student } from '../day.ts'
import { expectedAt, outcomeDue, seenCountsFrom, stillUnderWay } from '../hold/hold.ts'
import { equipmentChecks, holdStrip, newestStrip, readingStrip, type EquipmentCheck, type HoldStrip, type ReadingStrip } from './parts.ts'

/** What the safety officer walks with. */
export interface SafetyView {
  dayId: string
  /** The policy that the day pinned, whole: a screen asks `packages/heat` with it what stands in the way of a lift. */
  policy: HeatPolicy | null
  readings: ReadingStrip[]
  newest: ReadingStrip | null
  holds: HoldView[]
  /** Everyone in an attempt at an outdoor station now. */
  outdoors: { studentId: string; bib: string | null; stationId: string; since: number | null }[]
  /** Each time that somebody was under way outdoors; `toMs` null while it lasts. */
  out: { fromMs: number; toMs: number | null }[]
  coolingDown: { studentId: string; bib: string | null }[]
  stops: StopView[]
  devices: DeviceView[]
  /** Who is expected in each zone outdoors, and whom somebody has seen there since. */
  heads: {
    zoneId: string
    zone: string
    expected: { studentId: string; bib: string | null; countsFrom: number; seen: { at: number; by: string | null } | null }[]
  }[]
  headcounts: { zoneId: string; zone: string; at: number; present: string[]; missing: string[] }[]
  /** The policy's minutes since the last thunder or flash. */
  lightningMinutes: number
  /** Where the site holds for air (index, upwards) and for cold (tenths of a degree Celsius, downwards); null where it has set no figure. */
  holdsAt: { air: number | null; cold: number | null }
  hazards: { kind: string; at: number; value: number | null; zone: string | null }[]
  zones: { zoneId: string; name: string; outdoor: boolean }[]
  equipment: EquipmentCheck[]
  /** Who wears which bib: a stop needs no name. */
  bibs: Record<string, string>
}
export interface HoldView extends HoldStrip {
  readingId: string | null
  /** The instants could not be ordered for these: the hold governs. */
  underWay: { studentId: string; bib: string | null; attemptId: string; stationId: string; orderNotCertain: boolean; outcome: string }[]
  dispositionDue: number
  disposition: string | null
  heard: { deviceId: string; at: number; personId: string | null }[]
  notHeard: string[]
  /** Said over the radio, noted by somebody else: the tablet stands among those that have not acknowledged all the same. */
  heardByRadio?: { deviceId: string; at: number; saidBy: string; notedBy: string | null }[]
  proposal: { by: string; readingId: string | null; at: number } | null
  lifted: { at: number; by: string | null } | null
}
export interface StopView {
  studentId: string
  bib: string | null
  since: number
  zone: string | null
  personId: string | null
  deviceId: string
  namedAs: string | null
  answers: { answer: string; at: number; personId: string | null }[]
}
/** The screen works out the age: `lastHeardAt` against the ledger's clock. */
export interface DeviceView {
  deviceId: string
  lastHeardAt: number
  offsetMs: number
  bandMs: number
}

export function safetyView(day: Day): SafetyView {
  const students = [...day.students.values()]
  return {
    dayId: day.dayId,
    policy: (day.opened?.rules.heatPolicy ?? null) as HeatPolicy | null,
    readings: day.readings.map((reading) => readingStrip(day, reading)).sort((one, other) => one.readAt - other.readAt),
    newest: newestStrip(day),
    holds: [...day.holds.values()].map((hold) => holdView(day, hold)),
    outdoors: students.flatMap((student) => {
      const attempt = attemptUnderWay(student)
      const station = attempt && stationOf(day, attempt.stationId)
      if (!attempt || !station || !isOutdoors(day, station)) return []
      return [
        {
          studentId: student.studentId,
          bib: student.bib,
          stationId: attempt.stationId,
          since: attempt.started ? happenedAt(attempt.started) : null,
        },
      ]
    }),
    out: students.flatMap((student) => student.attempts.flatMap((attempt) => outSpan(day, attempt))),
    coolingDown: students.filter((student) => shape(student).coolDown === 'due').map(({ studentId, bib }) => ({ studentId, bib })),
    stops: students.flatMap((student): StopView[] => {
      if (!student.stop) return []
      const { since, zoneId, told, namedAs, answers } = student.stop
      return [
        {
          studentId: student.studentId,
          bib: student.bib,
          since,
          zone: zoneId ? (zoneOf(day, zoneId)?.name ?? zoneId) : null,
          personId: told.personId,
          deviceId: told.deviceId,
          namedAs,
          answers: [...answers],
        },
      ]
    }),
    devices: [...day.devices]
      .filter(([deviceId]) => deviceId !== 'weather')
      .map(([deviceId, { lastHeardAt, offsetMs, bandMs }]) => ({ deviceId, lastHeardAt, offsetMs, bandMs })),
    heads: (day.opened?.rules.zones ?? [])
      .filter(({ outdoor }) => outdoor)
      .map(({ zoneId, name }) => ({
        zoneId,
        zone: name,
        expected: expectedAt(day, zoneId).map((student) => headOf(day, zoneId, student)),
      })),
    headcounts: [...day.headcounts].map(([zoneId, { present, missing, told }]) => ({
      zoneId,
      zone: zoneOf(day, zoneId)?.name ?? zoneId,
      at: happenedAt(told),
      present: [...present],
      missing: [...missing],
    })),
    lightningMinutes: day.opened?.rules.lightningMinutes ?? 30,
    holdsAt: { air: day.opened?.rules.airHoldFrom ?? null, cold: day.opened?.rules.coldHoldAtTenthsDegC ?? null },
    hazards: day.hazards.map((hazard) => ({
      kind: hazard.kind,
      at: happenedAt(hazard.told),
      value: hazard.value,
      zone: hazard.zoneId ? (zoneOf(day, hazard.zoneId)?.name ?? null) : null,
    })),
    zones: [...(day.opened?.rules.zones ?? [])],
    equipment: equipmentChecks(day),
    bibs: Object.fromEntries(day.bibs),
  }
}

function headOf(day: Day, zoneId: ZoneId, student: Student): SafetyView['heads'][number]['expected'][number] {
  const countsFrom = seenCountsFrom(day, zoneId, student)
  const mark = day.headsSeen.get(zoneId)?.get(student.studentId)
  const isSeen = mark?.seen === true && happenedAt(mark.told) > countsFrom
  return {
    studentId: student.studentId,
    bib: student.bib,
    countsFrom,
    seen: isSeen ? { at: happenedAt(mark.told), by: mark.told.personId } : null,
  }
}

function outSpan(day: Day, { stationId, started, endedAt }: Attempt): SafetyView['out'] {
  const station = stationOf(day, stationId)
  return started && station && isOutdoors(day, station) ? [{ fromMs: happenedAt(started), toMs: endedAt }] : []
}

function holdView(day: Day, hold: Hold): HoldView {
  const still = stillUnderWay(day, hold)
  const listed = [...hold.underWay, ...still.filter((one) => !hold.underWay.some((known) => known.attemptId === one.attemptId))]
  const heard = [...hold.heard].map(([deviceId, { at, personId }]) => ({ deviceId, at, personId }))
  return {
    ...holdStrip(day, hold),
    readingId: hold.readingId,
    underWay: listed.map((one) => ({ ...one, bib: day.students.get(one.studentId)?.bib ?? null, outcome: outcomeOf(day, one) })),
    dispositionDue: hold.lifted ? 0 : outcomeDue(day, hold).length,
    disposition: hold.disposed?.disposition ?? null,
    heard,
    notHeard: [...day.devices.keys()].filter((deviceId) => deviceId !== 'weather' && !hold.heard.has(deviceId)),
    ...(hold.heardByRadio && { heardByRadio: [...hold.heardByRadio].map(([deviceId, said]) => ({ deviceId, ...said })) }),
    proposal: hold.proposal,
    lifted: hold.lifted,
  }
}

function outcomeOf(day: Day, { studentId, attemptId }: Hold['underWay'][number]): string {
  const attempt = day.students.get(studentId)?.attempts.find((one) => one.attemptId === attemptId)
  if (attempt?.status === 'interrupted') return attempt.interruptedBy?.by === 'hold' ? 'interruptedBySafety' : 'stopped'
  if (attempt?.status === 'recorded') return 'finished'
  return 'due'
}
