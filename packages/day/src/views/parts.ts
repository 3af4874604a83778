import { happenedAt } from '@musterbook/vocabulary/envelope'
import type { DayEventOf } from '@musterbook/vocabulary/events'
import type { FoldReading, FromPaper, Outcome } from '@musterbook/vocabulary/attempt'
import type { Measured } from '@musterbook/vocabulary/measured'
import { zoneOf, type Attempt, type Day, type Hold, type Student } from '../day.ts'
import { newestReading } from '../hold/readings.ts'

/** A hold as every screen shows it: what, where, since when, by whom. */
export interface HoldStrip {
  holdId: string
  kind: Hold['kind']
  zone: string
  zoneId: string | null
  since: number
  /** ± of `since`. */
  bandMs: number
  raisedBy: Hold['raisedBy']
  personId: string | null
}

/** A reading as every screen shows it: never without place, instrument and the instant it was read. */
export interface ReadingStrip {
  readingId: string
  wbgtTenths: number | null
  unit: 'degC' | 'degF'
  band: string
  zoneId: string
  zone: string
  instrumentId: string
  readBy: string | null
  readAt: number
  /** ± of `readAt`. */
  bandMs: number
  settled: boolean
  saidSettledEarly: boolean
  usable: boolean
  method: DayEventOf<'readingReceived'>['method']
  wetBulbKind: DayEventOf<'readingReceived'>['wetBulbKind']
  /** Until when it counts for outdoor starts. */
  validUntil: number
}

/** What was checked today. Equipment that does not stand here has not been. */
export interface EquipmentCheck {
  equipmentId: string
  blocked: boolean
  checkedAt: number
  lastGoodAt: number | null
}

export interface AttemptView {
  attemptId: string
  studentId: string
  bib: string | null
  stationId: string
  official: boolean
  number: number
  status: Attempt['status']
  interruptedBy: 'hold' | 'medicalStop' | 'withdrawal' | null
  startedAt: number | null
  load: Measured | null
  waveId: string | null
  extra: boolean
  revision: number
  openReviews: string[]
  observations: {
    observationId: string
    outcome: Outcome
    value: Measured | null
    folds: FoldReading[]
    fault: string | null
    keptUnusual: boolean
    /** Of a picture of the display or the loaded bar. */
    photoDigest?: string
    /** Typed later from a sheet; with a picture of it where one was taken. */
    fromPaper?: FromPaper
    as: DayEventOf<'resultRecorded'>['as']
    percentFatHundredths: number | null
    at: number
    personId: string | null
    deviceId: string
  }[]
  finish: { elapsedMs: number; laps: number } | null
  /** Pictures of the sheets that laps were typed from. */
  sheetPhotos?: string[]
  /** What it was corrected to; the observations stay as they were read. */
  corrected: Measured | null
  corrections: { correctionId: string; kind: string; at: number; personId: string | null; countersigned: string | null }[]
}

export function holdStrip(day: Day, hold: Hold): HoldStrip {
  return {
    holdId: hold.holdId,
    kind: hold.kind,
    zone: hold.zoneId ? (zoneOf(day, hold.zoneId)?.name ?? hold.zoneId) : 'all outdoor zones',
    zoneId: hold.zoneId,
    since: happenedAt(hold.raised),
    bandMs: hold.raised.bandMs,
    raisedBy: hold.raisedBy,
    personId: hold.raised.personId,
  }
}

export const holdsInForce = (day: Day): Hold[] => [...day.holds.values()].filter((hold) => !hold.lifted)

export function readingStrip(day: Day, reading: DayEventOf<'readingReceived'>): ReadingStrip {
  const minutes = Number(day.opened?.rules.heatPolicy?.['readingAgeMinutes'] ?? 0)
  return {
    readingId: reading.readingId,
    wbgtTenths: reading.wbgtTenths,
    unit: reading.unit,
    band: reading.band,
    zoneId: reading.zoneId,
    zone: zoneOf(day, reading.zoneId)?.name ?? reading.zoneId,
    instrumentId: reading.instrumentId,
    readBy: reading.readBy,
    readAt: reading.readAt,
    bandMs: reading.bandMs,
    settled: reading.settled,
    saidSettledEarly: reading.saidSettledEarly ?? false,
    usable: reading.usable,
    method: reading.method,
    wetBulbKind: reading.wetBulbKind,
    validUntil: reading.readAt + minutes * 60_000,
  }
}

export function newestStrip(day: Day): ReadingStrip | null {
  const reading = newestReading(day)
  return reading ? readingStrip(day, reading) : null
}

function correctedTo(attempt: Attempt): Measured | null {
  const change = attempt.corrections.findLast((correction) => correction.change.kind === 'value')?.change
  return change?.kind === 'value' ? change.value : null
}

function sheetsOf({ taps }: Attempt): { sheetPhotos?: string[] } {
  const sheetPhotos = [...new Set(taps.flatMap((tap) => tap.sheetPhoto ?? []))]
  return sheetPhotos.length > 0 ? { sheetPhotos } : {}
}

export function attemptView(day: Day, student: Student, attempt: Attempt): AttemptView {
  return {
    attemptId: attempt.attemptId,
    studentId: student.studentId,
    bib: student.bib,
    stationId: attempt.stationId,
    official: attempt.official,
    number: attempt.number,
    status: attempt.status,
    interruptedBy: attempt.interruptedBy?.by ?? null,
    startedAt: attempt.started ? happenedAt(attempt.started) : null,
    load: attempt.load,
    waveId: attempt.waveId,
    extra: attempt.extra,
    revision: attempt.revision,
    openReviews: attempt.reviewIds.flatMap((reviewId) => {
      const review = day.reviews.get(reviewId)
      return review && !review.ruled ? [review.because] : []
    }),
    observations: attempt.observations.map(({ event, told }) => ({
      observationId: event.observationId,
      outcome: event.outcome,
      value: event.value,
      folds: event.folds,
      fault: event.fault,
      keptUnusual: event.keptUnusual,
      // Left out where there is none: a record of before there were pictures stays what it was, byte for byte.
      ...(event.photoDigest !== null && { photoDigest: event.photoDigest }),
      ...(event.fromPaper !== null && { fromPaper: event.fromPaper }),
      as: event.as,
      percentFatHundredths: event.derived?.percentFatHundredths ?? null,
      at: happenedAt(told),
      personId: told.personId,
      deviceId: told.deviceId,
    })),
    finish: attempt.finish ? { elapsedMs: attempt.finish.elapsedMs, laps: attempt.finish.laps } : null,
    ...sheetsOf(attempt),
    corrected: correctedTo(attempt),
    corrections: attempt.corrections.map(({ correctionId, change, told, countersigned }) => ({
      correctionId,
      kind: change.kind,
      at: happenedAt(told),
      personId: told.personId,
      countersigned,
    })),
  }
}

export const equipmentChecks = (day: Day): EquipmentCheck[] =>
  [...day.equipment].map(([equipmentId, { blocked, lastGoodAt, checks }]) => ({
    equipmentId,
    blocked,
    checkedAt: checks.at(-1)?.at ?? 0,
    lastGoodAt,
  }))
