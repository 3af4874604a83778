import { orderNotCertain, happenedAt } from '@musterbook/vocabulary/envelope'
import type { DayEvent, DayEventOf } from '@musterbook/vocabulary/events'
import type { ReviewReason } from '@musterbook/vocabulary/review'
import type { PinnedStation } from '@musterbook/vocabulary/rules'
import { opensReview, reviewIdOf } from '../about.ts'
import { reviewFor } from '../attempt/start-attempt.ts'
import { reasonsAgainst, triesUsed, type No } from '../attempt/may-start.ts'
import { isAtTwoPlaces } from '../attempt/two-places.ts'
import { called, clockTime, holdsOver, stationOf, zoneOf, type Day, type Hold, type Student } from '../day.ts'
import { grant, refuse, type Asked, type Now, type Permission } from '../decision.ts'
import { newestReading } from '../hold/readings.ts'
import { refusal } from '@musterbook/vocabulary/refusals'

type Runner = Asked<'startWave'>['body']['runners'][number]

/**
 * A mass start, granted whole or refused whole. A gun that cannot be ordered against a hold, or that a device out of
 * contact has fired already, is kept as what happened: the hold governs, nothing of it counts, and a disposition is due.
 */
export function startWave(command: Asked<'startWave'>, day: Day, now: Now): Permission {
  const { body, envelope } = command
  const about = { stationId: body.stationId }
  const station = stationOf(day, body.stationId)
  if (envelope.decidedOnDevice) return grant(...gunFired(command, day, now))
  if (!station) return refuse('noSuchStation', {}, about)
  if (station.protocol.kind !== 'run') return refuse('notArun', {}, about)
  if (day.waves.has(body.waveId)) return refuse('waveExists', {}, about)
  const before = holdsOver(day, station).find((hold) => !maybeAfterGun(hold, envelope))
  if (before) return refuse('holdInForce', { zone: zoneName(day, station), since: clockTime(day, happenedAt(before.raised)) }, about)
  const seen = new Set<string>()
  for (const { studentId, attemptId } of body.runners) {
    const student = day.students.get(studentId)
    if (!student) return refuse('notOnRoster', {}, { ...about, studentId })
    if (student.attempts.some((attempt) => attempt.attemptId === attemptId)) return refuse('attemptExists', {}, { ...about, studentId })
    if (seen.has(studentId)) return refuseRunner({ rule: 'otherUnderWay', params: { station: station.protocol.name } }, student, about)
    seen.add(studentId)
    const against = reasonsOf(command, day, student, station, now).find((reason) => reason.rule !== 'holdInForce')
    if (against) return refuseRunner(against, student, about)
  }
  return grant(...gunFired(command, day, now))
}

/** Clearly after the gun, or not to be ordered against it. */
const maybeAfterGun = (hold: Hold, gun: Asked<'startWave'>['envelope']): boolean =>
  orderNotCertain(gun, hold.raised) || happenedAt(gun) < happenedAt(hold.raised)

/** Everything that stands against one runner. To be called up elsewhere is no reason: the gun is a call of its own. */
const reasonsOf = ({ body, envelope }: Asked<'startWave'>, day: Day, student: Student, station: PinnedStation, now: Now): No[] =>
  reasonsAgainst({
    day,
    student,
    station,
    official: body.official,
    envelope,
    waveId: body.waveId,
    observerId: null,
    early: false,
    now,
  }).filter((reason) => reason.rule !== 'calledElsewhere')

/** The gun as what happened, and for each runner what makes the run wait for a ruling. */
function gunFired(command: Asked<'startWave'>, day: Day, now: Now): DayEvent[] {
  const { body, envelope } = command
  const station = stationOf(day, body.stationId)
  const hold = station && holdsOver(day, station)[0]
  const uncertain = hold !== undefined && orderNotCertain(envelope, hold.raised)
  // One runner runs once in a wave, whatever the list says and whichever tablet tells of the gun.
  const isRunning = ({ studentId, attemptId }: Runner) =>
    day.students.get(studentId)?.attempts.some((one) => one.waveId === body.waveId && one.attemptId !== attemptId) ?? false
  const runners = [...new Map(body.runners.map((runner) => [runner.studentId, runner])).values()].filter((runner) => !isRunning(runner))
  const { waveId, stationId, official, fromPaper } = body
  const underHold = hold?.holdId ?? null
  const studentIds = [...new Set(body.runners.map((one) => one.studentId))]
  return [
    { type: 'waveStarted', waveId, stationId, studentIds, official, underHold, ...(fromPaper && { fromPaper }) },
    ...runners.flatMap((runner, index) => {
      const because = hold ? (uncertain ? 'orderNotCertain' : 'ranUnderHold') : whyItWaits(command, day, runner, station, now)
      const reviewId = because ? reviewIdOf(envelope.commandId, index + 1) : null
      const started = runnerStarted(command, day, runner, station, reviewId)
      const { studentId, attemptId } = runner
      if (!because || !reviewId) return [started]
      return [started, opensReview(reviewId, because, { studentId, stationId, attemptId, waveId, holdId: underHold })]
    }),
  ]
}

function whyItWaits(
  command: Asked<'startWave'>,
  day: Day,
  { studentId, attemptId }: Runner,
  station: PinnedStation | undefined,
  now: Now,
): ReviewReason | null {
  const student = day.students.get(studentId)
  if (!student || !station || station.protocol.kind !== 'run') return 'unreadable'
  // A twin tablet tells the same gun: the runner is not in a second attempt by that, and the first word was judged already.
  if (student.attempts.some((attempt) => attempt.attemptId === attemptId && attempt.started)) return null
  const others = { ...student, attempts: student.attempts.filter((attempt) => attempt.attemptId !== attemptId) }
  const [gravest] = reasonsOf(command, day, others, station, now)
  if (gravest) return reviewFor(gravest.rule)
  return isAtTwoPlaces(day, others, station.stationId, command.envelope) ? 'twoPlaces' : null
}

function runnerStarted(
  { body }: Asked<'startWave'>,
  day: Day,
  { studentId, attemptId }: Runner,
  station: PinnedStation | undefined,
  reviewId: DayEventOf<'attemptStarted'>['reviewId'],
): DayEvent {
  const student = day.students.get(studentId)
  return {
    type: 'attemptStarted',
    attemptId,
    studentId,
    stationId: body.stationId,
    official: body.official,
    load: null,
    equipmentIds: [],
    observerId: null,
    earlyBecause: null,
    number: body.official && student && station ? triesUsed(student, station) + 1 : 0,
    waveId: body.waveId,
    readingId: newestReading(day)?.readingId ?? null,
    reviewId,
    ...(body.fromPaper && { fromPaper: body.fromPaper }),
  }
}

const zoneName = (day: Day, station: PinnedStation): string => zoneOf(day, station.zoneId)?.name ?? station.zoneId

/** What stands against everyone is said as it is; what stands against one names the runner. */
function refuseRunner(against: No, student: Student, about: { stationId: Asked<'startWave'>['body']['stationId'] }): Permission {
  const ofTheDay = ['holdInForce', 'siteUnread', 'noReading', 'readingStale', 'outOfContact', 'equipmentBlocked']
  if (ofTheDay.includes(against.rule)) return refuse(against.rule, against.params, about)
  return refuse(
    'runnerMayNotStart',
    { ...against.params, bib: called(student), why: refusal(against.rule, against.params).says, rule: against.rule },
    { ...about, studentId: student.studentId },
  )
}
