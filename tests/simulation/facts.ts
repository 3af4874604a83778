import type { Entry } from '@musterbook/ledger/ledger'
import type { Command } from '@musterbook/vocabulary/command'
import { happenedAt } from '@musterbook/vocabulary/envelope'
import type { DayEvent, DayEventOf } from '@musterbook/vocabulary/events'
import type { Limit } from '@musterbook/vocabulary/clearance'
import type { DayRules, PinnedStation } from '@musterbook/vocabulary/rules'

/*
 * A second bookkeeping of the day, from the events of its entries alone and in the plainest way: nothing here asks the
 * rules that decide, the fold or the machine. Promises are held against these facts.
 */

export interface Span {
  from: number
  to: number | null
  /** The place in the record of the entry that began it. */
  place: number
}

export interface TryFacts {
  attemptId: string
  studentId: string
  stationId: string
  waveId: string | null
  official: boolean
  /** Null when nobody saw it start. */
  startedAt: number | null
  startBand: number
  /** The place in the record of the entry that told of the start. */
  startPlace: number
  /** Started by a device out of contact, on its own copy of the day. */
  isDecidedAlone: boolean
  endedAt: number | null
  status: 'underWay' | 'recorded' | 'interrupted' | 'released' | 'reassigned' | 'void'
  extra: boolean
  wasCorrected: boolean
  /** Was it to be run again through nobody's fault? */
  isGivenBack: boolean
}

export interface StudentFacts {
  studentId: string
  presence: 'expected' | 'present' | 'absent' | 'withdrawn' | 'complete'
  clearances: { clearanceId: string; status: string; limits: readonly Limit[] }[]
  /** Stations that were covered from each instant on; what stood before the first decision covered none. */
  covered: { at: number; stations: ReadonlySet<string> }[]
  warmUpAt: number | null
  weighedAt: number | null
  stops: Span[]
  coolDowns: Span[]
  tries: Map<string, TryFacts>
  moreTries: string[]
}

export interface HoldFacts {
  holdId: string
  kind: string
  zoneId: string | null
  raisedAt: number
  bandMs: number
  lifted: { at: number } | null
  listed: readonly string[]
  chosen: Set<string>
  proposal: { by: string | null; readingId: string | null; hasReason: boolean } | null
  unheard: Set<string>
}

export interface ReviewFacts {
  because: string
  attemptId: string | null
  studentId: string | null
  /** Asked by what was told behind the seal: it takes nothing from a sealed result. */
  isLate: boolean
  isOpen: boolean
  ruling: string | null
}

export interface EntryFacts {
  entry: Entry
  events: readonly DayEvent[]
  command: Command | undefined
  /** When it happened by the clock of the ledger, as far as the device knows. */
  at: number
  bandMs: number
}

export const entryFacts = (entry: Entry, command: Command | undefined): EntryFacts => ({
  entry,
  events: entry.events as unknown as readonly DayEvent[],
  command,
  at: happenedAt(entry.meta),
  bandMs: entry.meta.bandMs,
})

export class Facts {
  rules: DayRules | null = null
  dayVersion = 0
  dayHash = ''
  afterVersion = 0
  /** Entries followed so far, behind the seal included. */
  place = 0
  sealed: { version: number; hash: string } | null = null
  reopened = false
  siteVersion = 0
  readonly students = new Map<string, StudentFacts>()
  readonly holds = new Map<string, HoldFacts>()
  readonly reviews = new Map<string, ReviewFacts>()
  readonly #reviewsOfTries = new Map<string, ReviewFacts[]>()
  readonly readings: DayEventOf<'readingReceived'>[] = []
  readonly hazards: { kind: string; at: number; bandMs: number; value: number | null }[] = []
  readonly radio = new Map<string, { until: number; waveId: string | null }>()
  readonly devices = new Set<string>()

  station(stationId: string): PinnedStation | undefined {
    return this.rules?.stations.find((station) => station.stationId === stationId)
  }

  isOutdoors(station: PinnedStation): boolean {
    return station.protocol.outdoor || this.isOutdoorZone(station.zoneId)
  }

  isOutdoorZone(zoneId: string): boolean {
    return this.rules?.zones.some((zone) => zone.zoneId === zoneId && zone.outdoor) ?? false
  }

  covers(hold: { zoneId: string | null }, station: PinnedStation): boolean {
    return hold.zoneId === null ? this.isOutdoors(station) : hold.zoneId === station.zoneId
  }

  isRun(stationId: string): boolean {
    return this.station(stationId)?.protocol.kind === 'run'
  }

  /** Stations that the clearances in force allow, the strictest of those that stand together. */
  coveredStations(student: StudentFacts): ReadonlySet<string> {
    const standing = student.clearances
    const allows = standing.length > 0 && standing.every(({ status }) => status === 'cleared' || status === 'limited')
    if (!allows) return none
    const bars = (limit: Limit, { stationId, protocol }: PinnedStation) =>
      limit.kind === 'notAtStation'
        ? limit.stationId === stationId
        : limit.kind === 'noMaximalLift'
          ? protocol.kind === 'loaded'
          : limit.kind === 'walkOnly' && protocol.maximalEffort && protocol.kind !== 'loaded'
    return new Set(
      (this.rules?.stations ?? [])
        .filter((station) => !standing.some(({ limits }) => limits.some((limit) => bars(limit, station))))
        .map((station) => station.stationId),
    )
  }

  asksForObserver(student: StudentFacts): boolean {
    return student.clearances.some(({ limits }) => limits.some((limit) => limit.kind === 'withObserver'))
  }

  underWay(student: StudentFacts): TryFacts[] {
    return [...student.tries.values()].filter((one) => one.status === 'underWay')
  }

  follow(facts: EntryFacts): void {
    const { entry, events, bandMs } = facts
    if (entry.stream.startsWith('after/')) this.afterVersion = entry.version
    else {
      this.dayVersion = entry.version
      this.dayHash = entry.hash
    }
    this.place++
    this.devices.add(entry.meta.deviceId)
    for (const event of events) this.#follow(event, facts.at, bandMs, facts)
    if (events.some((event) => event.type === 'daySealed') && !this.sealed) this.sealed = { version: entry.version, hash: entry.hash }
  }

  #follow(event: DayEvent, at: number, bandMs: number, { entry, command }: EntryFacts): void {
    const student = 'studentId' in event && event.studentId ? this.students.get(event.studentId) : undefined
    const attempt = student && 'attemptId' in event && event.attemptId ? student.tries.get(event.attemptId) : undefined
    switch (event.type) {
      case 'dayOpened':
        this.rules = event.rules
        return
      case 'studentExpected':
        if (!student) this.students.set(event.studentId, newcomer(event.studentId))
        return
      case 'checkedIn':
        if (student && (student.presence === 'expected' || student.presence === 'absent')) student.presence = 'present'
        return
      case 'studentAbsent':
        if (student?.presence === 'expected') student.presence = 'absent'
        return
      case 'studentWithdrew':
        if (student) student.presence = 'withdrawn'
        return
      case 'studentSignedOff':
        if (student?.presence === 'present') student.presence = 'complete'
        return
      case 'clearanceRecorded': {
        if (!student) return
        const beside = student.clearances.filter((one) => event.conflictsWith.includes(one.clearanceId as never))
        student.clearances = [...beside, event]
        student.covered.push({ at, stations: this.coveredStations(student) })
        return
      }
      case 'clearanceWithdrawn': {
        if (!student) return
        const isKnown = student.clearances.some((one) => one.clearanceId === event.clearanceId)
        const clearanceId = isKnown ? `${entry.meta.commandId}.w` : event.clearanceId
        student.clearances = [{ clearanceId, status: 'withdrawn', limits: [] }]
        student.covered.push({ at, stations: none })
        return
      }
      case 'weighed':
        if (student) student.weighedAt ??= at
        return
      case 'warmUpConfirmed':
        if (student) student.warmUpAt ??= at
        return
      case 'attemptStarted': {
        if (!student || !this.station(event.stationId)) return
        const isDecidedAlone = command?.envelope.decidedOnDevice ?? false
        const start = { startedAt: at, startBand: bandMs, startPlace: this.place, isDecidedAlone }
        if (!attempt) student.tries.set(event.attemptId, { ...tryOf(event, at, bandMs), ...start })
        else if (attempt.startedAt === null && attempt.stationId === event.stationId) Object.assign(attempt, start)
        return
      }
      case 'attemptReleased':
        if (attempt) end(attempt, 'released', at)
        return
      case 'resultRecorded': {
        if (!student || !this.station(event.stationId)) return
        const wasUnderWay = attempt?.status === 'underWay'
        const kept = attempt ?? {
          ...tryOf({ ...event, waveId: null }, at, bandMs),
          startedAt: null,
          status: 'recorded' as const,
          endedAt: at,
        }
        student.tries.set(event.attemptId, kept)
        if (event.as === 'extra') kept.extra = true
        if (event.as === 'result' && event.outcome === 'noFaultRerun') kept.isGivenBack = true
        if (wasUnderWay) end(kept, 'recorded', at)
        const others = this.underWay(student).some((one) => one.stationId === event.stationId)
        if (wasUnderWay || (!attempt && !others)) this.#ranOut(student, kept.stationId, at)
        return
      }
      case 'finishRecorded':
        if (!student || !attempt) return
        if (attempt.status === 'underWay') {
          end(attempt, 'recorded', at)
          this.#ranOut(student, attempt.stationId, at)
        }
        return
      case 'attemptInterrupted':
        if (!student || !attempt || attempt.status !== 'underWay') return
        end(attempt, 'interrupted', at)
        this.#ranOut(student, attempt.stationId, at)
        return
      case 'studentStopped':
        if (student && !isOpen(student.stops)) student.stops.push({ from: at, to: null, place: this.place })
        return
      case 'studentRestored':
        if (student) closeAll(student.stops, at)
        return
      case 'coolDownConfirmed':
      case 'coolDownExcused':
        if (student) closeAll(student.coolDowns, at)
        return
      case 'retestGranted':
        if (student && event.because === 'supervisor') student.moreTries.push(...event.stationIds)
        return
      case 'readingReceived':
        this.readings.push(event)
        this.siteVersion = Math.max(this.siteVersion, event.siteVersion)
        return
      case 'hazardObserved':
        this.hazards.push({ kind: event.kind, at, bandMs, value: event.value })
        return
      case 'radioConfirmed':
        this.radio.set(event.stationId, { until: event.until, waveId: event.waveId })
        return
      case 'holdRaised':
        this.holds.set(event.holdId, {
          ...event,
          raisedAt: at,
          bandMs,
          lifted: null,
          listed: event.underWay.map((one) => one.attemptId),
          chosen: new Set(),
          proposal: null,
          unheard: new Set(),
        })
        return
      case 'holdDisposed':
        for (const studentId of event.studentIds) this.holds.get(event.holdId)?.chosen.add(studentId)
        return
      case 'liftProposed': {
        const hold = this.holds.get(event.holdId)
        if (hold) hold.proposal = { by: entry.meta.personId, readingId: event.readingId, hasReason: event.reason !== null }
        return
      }
      case 'holdLifted': {
        const hold = this.holds.get(event.holdId)
        if (hold) hold.lifted = { at }
        return
      }
      case 'reviewOpened':
        this.#asked(event.reviewId, {
          because: event.because,
          attemptId: event.about.attemptId,
          studentId: event.about.studentId,
          isLate: entry.stream.startsWith('after/'),
          isOpen: true,
          ruling: null,
        })
        return
      case 'reviewRuled': {
        const review = this.reviews.get(event.reviewId)
        if (review) Object.assign(review, { isOpen: false, ruling: event.ruling })
        return
      }
      case 'reviewSettled': {
        const review = this.reviews.get(event.reviewId)
        if (review) review.isOpen = false
        return
      }
      case 'corrected':
        this.#corrected(event, student, attempt, at)
        return
      case 'reopened':
        this.reopened = true
        return
      case 'daySealed':
        this.reopened = false
        return
    }
  }

  reviewsOf({ attemptId, studentId }: Pick<TryFacts, 'attemptId' | 'studentId'>): ReviewFacts[] {
    const about = this.#reviewsOfTries.get(attemptId) ?? []
    return about.filter((review) => review.attemptId === attemptId && review.studentId === studentId)
  }

  #asked(reviewId: string, review: ReviewFacts): void {
    this.reviews.set(reviewId, review)
    if (review.attemptId) this.#reviewsOfTries.set(review.attemptId, [...(this.#reviewsOfTries.get(review.attemptId) ?? []), review])
  }

  #ranOut(student: StudentFacts, stationId: string, at: number): void {
    if (this.isRun(stationId) && !isOpen(student.coolDowns)) student.coolDowns.push({ from: at, to: null, place: this.place })
  }

  #corrected({ change }: DayEventOf<'corrected'>, student: StudentFacts | undefined, attempt: TryFacts | undefined, at: number): void {
    if (!student || !attempt) return
    attempt.wasCorrected = true
    if (change.kind === 'void') attempt.status = 'void'
    if (change.kind === 'official') attempt.official = change.official
    if (change.kind !== 'reassign') return
    const other = this.students.get(change.toStudentId)
    const { status } = attempt
    attempt.status = 'reassigned'
    if (!other) return
    const attemptId = change.newAttemptId as string
    const moved = { ...attempt, attemptId, studentId: other.studentId, status: status === 'underWay' ? ('recorded' as const) : status }
    other.tries.set(attemptId, moved)
    // What was open about the try goes with it.
    const about = this.reviewsOf(attempt)
    for (const review of about) Object.assign(review, { attemptId, studentId: other.studentId })
    this.#reviewsOfTries.set(attemptId, [...(this.#reviewsOfTries.get(attemptId) ?? []), ...about])
    const isThere = this.underWay(other).some((one) => one.stationId === attempt.stationId)
    if (!isThere) this.#ranOut(other, attempt.stationId, at)
  }
}

const none: ReadonlySet<string> = new Set()

const newcomer = (studentId: string): StudentFacts => ({
  studentId,
  presence: 'expected',
  clearances: [],
  covered: [],
  warmUpAt: null,
  weighedAt: null,
  stops: [],
  coolDowns: [],
  tries: new Map(),
  moreTries: [],
})

const tryOf = (
  told: { attemptId: string; studentId: string; stationId: string; official: boolean; waveId: string | null },
  at: number,
  bandMs: number,
): TryFacts => ({
  attemptId: told.attemptId,
  studentId: told.studentId,
  stationId: told.stationId,
  waveId: told.waveId,
  official: told.official,
  startedAt: at,
  startBand: bandMs,
  startPlace: 0,
  isDecidedAlone: false,
  endedAt: null,
  status: 'underWay',
  extra: false,
  wasCorrected: false,
  isGivenBack: false,
})

function end(attempt: TryFacts, status: TryFacts['status'], at: number): void {
  attempt.status = status
  attempt.endedAt ??= at
}

export const isOpen = (spans: readonly Span[]): boolean => spans.some((span) => span.to === null)

function closeAll(spans: Span[], at: number): void {
  for (const span of spans) span.to ??= at
}

/** Did any of these last at some instant from `from` to `to`? */
export const lasted = (spans: readonly Span[], from: number, to: number): boolean =>
  spans.some((span) => span.from <= to && (span.to === null || span.to >= from))
