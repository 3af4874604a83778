import { happenedAt } from '@musterbook/vocabulary/envelope'
import { openReviews, shape, stationOf, zoneOf, type Day } from '../day.ts'
import { outcomeDue } from '../hold/hold.ts'
import { isLoose } from '../seal/seal.ts'
import { holdsInForce } from './parts.ts'

/** Everything that needs a person's decision, oldest first. Nothing closes by itself. */
export interface InboxView {
  dayId: string
  items: InboxItem[]
  /** What was said no to, newest last: to look at, not to decide. */
  refusals: {
    version: number
    act: string
    rule: string
    studentId: string | null
    bib: string | null
    stationId: string | null
    at: number
    personId: string | null
  }[]
  /** Why the day cannot be sealed yet; empty when it can. */
  inTheWayOfSeal: { kind: 'notFinished' | 'reviews' | 'holds'; count: number; bibs: string[] }[]
}
export interface InboxItem {
  itemId: string
  kind: 'review' | 'stop' | 'referral' | 'disposition' | 'unlisted' | 'coolDown' | 'call' | 'anomaly'
  because: string
  since: number
  studentId: string | null
  bib: string | null
  stationId: string | null
  station: string | null
  attemptId: string | null
  holdId: string | null
  equipmentId: string | null
  deviceId: string | null
  who: string
}

export function inboxView(day: Day): InboxView {
  const items = [...reviews(day), ...people(day), ...holds(day), ...calls(day), ...anomalies(day)].sort(
    (one, other) => one.since - other.since,
  )
  const loose = [...day.students.values()].filter(isLoose)
  const open = openReviews(day).length
  const holdsOpen = holdsInForce(day).filter((hold) => !hold.disposed && hold.underWay.length > 0).length
  return {
    dayId: day.dayId,
    items,
    refusals: day.refusals
      .toArray()
      .slice(-200)
      .map((one) => ({ ...one, bib: one.studentId ? (day.students.get(one.studentId)?.bib ?? null) : null })),
    inTheWayOfSeal: [
      ...(loose.length > 0
        ? [{ kind: 'notFinished' as const, count: loose.length, bibs: loose.map((student) => student.bib ?? student.studentId) }]
        : []),
      ...(holdsOpen > 0 ? [{ kind: 'holds' as const, count: holdsOpen, bibs: [] }] : []),
      ...(open > 0 ? [{ kind: 'reviews' as const, count: open, bibs: [] }] : []),
    ],
  }
}

const blank = {
  studentId: null,
  bib: null,
  stationId: null,
  station: null,
  attemptId: null,
  holdId: null,
  equipmentId: null,
  deviceId: null,
}

const bibOf = (day: Day, studentId: string | null): string | null =>
  studentId ? (day.students.get(studentId as never)?.bib ?? null) : null

const reviews = (day: Day): InboxItem[] =>
  openReviews(day).map((review) => ({
    ...blank,
    itemId: review.reviewId,
    kind: 'review',
    because: review.because,
    since: happenedAt(review.opened),
    studentId: review.about.studentId,
    bib: bibOf(day, review.about.studentId),
    stationId: review.about.stationId,
    station: review.about.stationId ? (stationOf(day, review.about.stationId)?.protocol.name ?? null) : null,
    attemptId: review.about.attemptId,
    holdId: review.about.holdId,
    equipmentId: review.about.equipmentId,
    who: review.because === 'clearanceConflict' ? 'Medical screener' : 'Supervisor',
  }))

const people = (day: Day): InboxItem[] =>
  [...day.students.values()].flatMap((student): InboxItem[] => {
    const whose = { ...blank, studentId: student.studentId, bib: student.bib }
    return [
      ...(student.stop
        ? [
            {
              ...whose,
              itemId: `stop.${student.studentId}`,
              kind: 'stop' as const,
              because: 'medicalStop',
              since: student.stop.since,
              who: 'Medical screener',
            },
          ]
        : []),
      ...student.referrals
        .filter((referral) => !referral.answered)
        .map((referral) => ({
          ...whose,
          itemId: referral.referralId,
          kind: 'referral' as const,
          because: `referredTo.${referral.to}`,
          since: referral.at,
          who: 'Medical screener',
        })),
      ...(shape(student).coolDown === 'due'
        ? [
            {
              ...whose,
              itemId: `coolDown.${student.studentId}`,
              kind: 'coolDown' as const,
              because: 'coolDownDue',
              since: endOfRun(student),
              who: 'Track staff',
            },
          ]
        : []),
    ]
  })

function endOfRun(student: Parameters<typeof shape>[0]): number {
  const last = student.attempts.findLast((attempt) => attempt.waveId !== null)
  return last?.finish ? happenedAt(last.finish.told) : last?.started ? happenedAt(last.started) : 0
}

const holds = (day: Day): InboxItem[] =>
  holdsInForce(day).flatMap((hold): InboxItem[] => {
    if (outcomeDue(day, hold).length === 0) return []
    return [
      {
        ...blank,
        itemId: `hold.${hold.holdId}`,
        kind: 'disposition',
        because: 'dispositionDue',
        since: happenedAt(hold.raised),
        holdId: hold.holdId,
        station: hold.zoneId ? (zoneOf(day, hold.zoneId)?.name ?? null) : null,
        who: 'Safety officer',
      },
    ]
  })

const calls = (day: Day): InboxItem[] =>
  [...day.calls].map(([callId, { deviceId, at }]) => ({
    ...blank,
    itemId: callId,
    kind: 'call',
    because: 'staffCalled',
    since: at,
    deviceId,
    who: 'Greeter',
  }))

const anomalies = (day: Day): InboxItem[] =>
  day.anomalies.map((anomaly) => ({
    ...blank,
    itemId: `anomaly.${anomaly.version}.${anomaly.type}`,
    kind: 'anomaly',
    because: anomaly.type,
    since: 0,
    studentId: anomaly.studentId,
    bib: bibOf(day, anomaly.studentId),
    who: 'Supervisor',
  }))
