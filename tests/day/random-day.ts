import fc from 'fast-check'
import type { ActName } from '@musterbook/vocabulary/act-table'
import { acts } from '@musterbook/vocabulary/acts'
import type { Command } from '@musterbook/vocabulary/command'
import type { By, Envelope } from '@musterbook/vocabulary/envelope'
import type { Role } from '@musterbook/vocabulary/people'
import type { Unit } from '@musterbook/vocabulary/measured'
import { demoFacts, demoRules, drive, expected, words, type Drive, type Told } from '@musterbook/day/controls'

/*
 * Random days: any act by anybody, with random clocks, offsets, bands, ages of contact and pictures of the day, told in
 * any order. Ids come from small pools so that commands meet; half of them follow what the day has, so that days go far.
 */

const bibs = ['101', '102', '103'] as const
const students = [...bibs.map((bib) => `s${bib}`), 's999']
const stationIds = ['skinfold', 'agility', 'sitAndReach', 'benchPress', 'run']
const pick = <T>(...values: readonly T[]) => fc.constantFrom(...values)
const often = <T>(value: T, other: fc.Arbitrary<T>, weight = 4) =>
  fc.oneof({ arbitrary: fc.constant(value), weight }, { arbitrary: other, weight: 1 })

const studentId = fc.oneof({ arbitrary: pick(...students.slice(0, 3)), weight: 12 }, { arbitrary: pick('s999'), weight: 1 })
const stationId = fc.oneof({ arbitrary: pick(...stationIds), weight: 12 }, { arbitrary: pick('nowhere'), weight: 1 })
const attemptId = pick('a1', 'a2', 'a3', 'a4', 'a5', 'a6', 'a7', 'a8')
/** What a start is given: mostly one that nobody has yet. */
const newAttemptId = fc.integer({ min: 1, max: 60 }).map((number) => `a${number}`)
const waveId = pick('w1', 'w2', 'w3')
const holdId = pick('h1', 'h2', 'h3')
const zoneId = pick('gym', 'track')
const scope = fc.oneof(pick<string | null>('track', 'gym'), pick(null))
const equipmentId = pick('scale-1', 'watch-1', 'bench-1')
const sealed = fc.oneof(pick(words), pick(null))
const isMostly = (value: boolean) => often(value, fc.boolean(), 8)

const units: readonly Unit[] = [
  'hundredthsOfSecond',
  'millimetres',
  'tenthsKg',
  'hundredthsKg',
  'count',
  'tenthsLb',
  'tenthsDegC',
  'quarterInches',
]
const anyMeasured = fc.record({
  amount: fc.oneof({ arbitrary: fc.integer({ min: 100, max: 3000 }), weight: 8 }, { arbitrary: fc.maxSafeInteger(), weight: 1 }),
  unit: fc.oneof(
    { arbitrary: pick<Unit>('hundredthsOfSecond', 'millimetres', 'tenthsKg'), weight: 8 },
    { arbitrary: pick(...units), weight: 1 },
  ),
  resolution: pick(1, 5),
  method: pick('hand', 'scale'),
})
const mass = fc.record({
  amount: fc.oneof(
    { arbitrary: fc.integer({ min: 5000, max: 12_000 }), weight: 8 },
    { arbitrary: pick(0, -1, Number.MAX_SAFE_INTEGER), weight: 1 },
  ),
  unit: often<Unit>('hundredthsKg', pick(...units), 8),
  resolution: pick(1),
  method: pick('scale'),
})
const limit = fc.oneof(
  fc.record({ kind: pick('notAtStation'), stationId: pick(...stationIds) }),
  pick({ kind: 'noMaximalLift' }, { kind: 'walkOnly' }, { kind: 'withObserver' }),
)
const normGroup = fc.record({ sex: pick('M', 'W'), ageYears: fc.integer({ min: 18, max: 45 }) })

/** A body for every act, by the ids of the pools. `undefined` values are filled in from the day, see `inDay`. */
const bodies: Record<ActName, fc.Arbitrary<Record<string, unknown>>> = {
  openDay: pick({ facts: demoFacts(), rules: demoRules({ retestDays: 14 }), expected: bibs.map((bib) => expected(bib)) }) as never,
  assignStaff: fc.record({ personId: pick('bo', 'wren'), stationId, qualified: fc.boolean(), acceptedBecause: sealed }),
  releaseStaff: fc.record({ personId: pick('bo', 'wren'), stationId }),
  checkEquipment: fc.record({ equipmentId, passed: isMostly(true), reference: pick(null), read: pick(null) }),
  briefClass: fc.record({
    briefingId: pick('b1'),
    studentIds: fc.array(studentId, { minLength: 1, maxLength: 3 }),
    stationIds: fc.array(stationId, { minLength: 1, maxLength: 3 }),
    language: pick('en'),
  }),
  checkIn: fc.record({ studentId, secondIdentifier: pick('birthDate', 'photo') }),
  bindBib: fc.record({ studentId, bib: pick('1', '2', '3', '4') }),
  walkIn: fc.record({ studentId: pick('s101', 's104'), classId: pick('lark-7'), normGroup, language: pick('en') }),
  markAbsent: fc.record({ studentId }),
  withdraw: fc.record({ studentId }),
  changeNormGroup: fc.record({ studentId, normGroup, reason: pick(words) }),
  recordClearance: fc.record({
    clearanceId: pick('k1', 'k2', 'k3'),
    studentId,
    status: often<string>('cleared', pick('limited', 'notToday')),
    limits: fc.array(limit, { maxLength: 2 }),
    supersedes: pick('newest', 'newest', 'k1', null),
  }),
  withdrawClearance: fc.record({ clearanceId: pick('k1', 'k2', 'k9'), studentId }),
  weigh: fc.record({ studentId, mass, scaleId: equipmentId, keptUnusual: fc.boolean() }),
  confirmWarmUp: fc.record({ studentIds: fc.array(studentId, { minLength: 1, maxLength: 3 }) }),
  joinQueue: fc.record({ studentId, stationId }),
  leaveQueue: fc.record({ studentId, stationId }),
  callUp: fc.record({ studentId, stationId }),
  sendBack: fc.record({ studentId, stationId }),
  startAttempt: fc.record({
    attemptId: newAttemptId,
    studentId,
    stationId,
    official: isMostly(true),
    load: fc.oneof(anyMeasured, pick(null)),
    equipmentIds: pick([], ['watch-1']),
    observerId: pick(null, 'bo'),
    earlyBecause: sealed,
  }),
  releaseAttempt: fc.record({ attemptId, studentId }),
  recordResult: fc.record({
    observationId: fc.integer({ min: 1, max: 1e9 }).map((number) => `o${number}`),
    attemptId: fc.oneof({ arbitrary: pick('underWay'), weight: 4 }, { arbitrary: attemptId, weight: 1 }),
    studentId,
    stationId: fc.oneof({ arbitrary: pick('underWay'), weight: 4 }, { arbitrary: stationId, weight: 1 }),
    outcome: often<string>('good', pick('foul', 'noLift', 'noFaultRerun', 'didNotFinish')),
    value: fc.oneof({ arbitrary: anyMeasured, weight: 6 }, { arbitrary: pick(null), weight: 1 }),
    folds: fc.array(fc.record({ site: pick('chest', 'abdomen', 'thigh', 'elsewhere'), halfMillimetres: fc.integer({ min: 0, max: 60 }) }), {
      maxLength: 8,
    }),
    fault: pick(null, 'markerDown'),
    equipmentIds: pick([], ['watch-1']),
    keptUnusual: fc.boolean(),
    official: isMostly(true),
    photoDigest: pick(null),
    fromPaper: pick(null),
  }),
  disputeReadBack: fc.record({ attemptId, studentId, observationId: pick('o1') }),
  acknowledgeDifference: fc.record({ attemptId, studentId }),
  answerPrompt: fc.record({
    prompt: pick('restNotOver', 'possibleMissedCrossing'),
    studentId,
    attemptId,
    shown: pick('asked'),
    answer: pick('kept'),
    reason: sealed,
  }),
  callStaff: fc.record({ callId: pick('call-1', 'call-2') }),
  answerCall: fc.record({ callId: pick('call-1', 'call-2') }),
  startWave: fc.record({
    waveId,
    stationId: often('run', stationId, 10),
    runners: fc.array(fc.record({ studentId, attemptId: fc.integer({ min: 1, max: 40 }).map((number) => `r${number}`) }), {
      minLength: 1,
      maxLength: 3,
    }),
    official: isMostly(true),
  }),
  recordCrossing: fc.record({
    observationId: fc.integer({ min: 1, max: 1e9 }).map((number) => `t${number}`),
    waveId: often<string>('running', waveId),
    studentId,
    line: often<string>('lap', pick('finish'), 2),
  }),
  takeOverWave: fc.record({ waveId }),
  takeBackCrossing: fc.record({ observationId: pick('anyTap', 't1'), waveId, studentId }),
  inferLap: fc.record({
    observationId: pick('i1', 'i2'),
    waveId,
    studentId,
    elapsedMs: fc.integer({ min: 1, max: 900_000 }),
    witnessId: pick(null, 'bo'),
  }),
  stopStudent: fc.record({ studentId, zoneId: scope, reason: pick('unwell', 'hurt', 'notSaid') }),
  nameStopper: fc.record({ studentId, stopCommandId: pick('c1'), personId: pick('bo') }),
  answerStop: fc.record({ studentId, answer: pick('acknowledged', 'arrived') }),
  refer: fc.record({ referralId: pick('f1', 'f2'), studentId, to: pick('screener', 'ambulance') }),
  answerReferral: fc.record({ referralId: pick('f1', 'f2'), studentId, outcome: pick('cleared', 'limited', 'notToday') }),
  restore: fc.record({ studentId }),
  reportHealthEvent: fc.record({ studentId, words: sealed }),
  raiseHold: fc.record({ holdId, kind: pick('heat', 'lightning', 'air', 'cold', 'other', 'other'), zoneId: scope }),
  acknowledgeHold: fc.record({ holdId }),
  noteHeardByRadio: fc.record({ holdId, deviceId: pick('track-1', 'reach-1'), saidBy: pick('wren', 'bo'), words: pick(null, words) }),
  disposeHold: fc.record({ holdId: often<string>('any', holdId), disposition: pick('stopAndWalkIn', 'finishThisLap', 'finishTheRun') }),
  observeHazard: fc.record({ kind: pick('thunder', 'flash', 'airIndex', 'windChill'), zoneId: scope, value: pick(10, null) }),
  proposeLift: fc.record({ holdId: often<string>('any', holdId), readingId: pick('newest', 'newest', 'reading-1', null), reason: sealed }),
  confirmLift: fc.record({ holdId: often<string>('any', holdId) }),
  confirmByRadio: fc.record({ stationId, waveId: fc.oneof(waveId, pick(null)), spokeTo: pick('rashid'), words: pick(words) }),
  takeHeadcount: fc.record({ zoneId, present: fc.array(studentId, { maxLength: 3 }) }),
  seeAtHeadcount: fc.record({ zoneId, studentIds: fc.array(studentId, { minLength: 1, maxLength: 3 }), seen: fc.boolean() }),
  rule: fc.record({
    reviewId: pick('oldest', 'newest', 'none'),
    ruling: pick('counts', 'doesNotCount', 'retest', 'settled'),
    reason: pick(words),
  }),
  correct: fc.record({
    correctionId: pick('x1', 'x2'),
    studentId,
    attemptId: fc.oneof({ arbitrary: pick('last'), weight: 4 }, { arbitrary: attemptId, weight: 1 }),
    change: fc.oneof(
      fc.record({ kind: pick('value'), value: anyMeasured }),
      pick({ kind: 'void' }),
      fc.record({ kind: pick('official'), official: fc.boolean() }),
      fc.record({ kind: pick('reassign'), toStudentId: studentId, newAttemptId: pick('n1', 'n2', 'n3') }),
    ),
    reason: pick(words),
    seenRevision: pick<string | number>('seen', 'seen', 'seen', 0),
  }),
  grantRetest: fc.record({
    entitlementId: pick('e1'),
    studentId,
    stationIds: fc.array(stationId, { minLength: 1, maxLength: 2 }),
    until: pick('2027-05-25'),
    reason: sealed,
  }),
  confirmCoolDown: fc.record({ studentId, lookOver: pick('nothingSeen', 'referred') }),
  excuseCoolDown: fc.record({ studentId, reason: pick(words) }),
  signOffStudent: fc.record({ studentId }),
  sealDay: fc.record({ acceptOpenReviews: pick(words) }),
  reopen: fc.record({ reason: pick(words) }),
}

/** How often each is drawn: a day is mostly attempts. What ends it is rare, so that most days live long. */
const weights: Partial<Record<ActName, number>> = {
  checkIn: 10,
  recordClearance: 14,
  confirmWarmUp: 10,
  weigh: 6,
  startAttempt: 60,
  recordResult: 50,
  startWave: 24,
  recordCrossing: 30,
  confirmCoolDown: 10,
  raiseHold: 5,
  disposeHold: 12,
  proposeLift: 18,
  restore: 6,
  stopStudent: 5,
  confirmLift: 18,
  rule: 6,
  correct: 6,
  openDay: 1,
  sealDay: 4,
  reopen: 3,
  signOffStudent: 1,
  withdraw: 1,
  markAbsent: 1,
  withdrawClearance: 2,
}

const people: readonly [string | null, readonly Role[]][] = [
  ['wren', ['station']],
  ['bo', ['station', 'greeter']],
  ['petra', ['screener']],
  ['dai', ['screener']],
  ['rashid', ['safety']],
  ['safia', ['safety', 'supervisor']],
  ['tomas', ['supervisor']],
  ['ines', ['coordinator']],
  [null, ['device']],
]

/** One thing that happens on a random day. */
export type Happening =
  | { kind: 'command'; act: ActName; body: Record<string, unknown>; who: number; second: number | null; moment: MomentOf }
  | { kind: 'reading'; degrees: number; settled: boolean; zoneId: string; late: number; afterMs: number }

interface MomentOf {
  /** How long after the thing before it. */
  afterMs: number
  /** How long ago it happened when it is told, by a clock that is off. */
  agoMs: number
  offsetMs: number
  bandMs: number
  contactAgeMs: number
  decidedOnDevice: boolean
  siteKnown: boolean
}

const moment: fc.Arbitrary<MomentOf> = fc.record({
  afterMs: fc.oneof(
    { arbitrary: fc.integer({ min: 0, max: 3000 }), weight: 3 },
    { arbitrary: fc.integer({ min: 0, max: 200_000 }), weight: 2 },
  ),
  agoMs: fc.oneof({ arbitrary: fc.constant(0), weight: 6 }, { arbitrary: fc.integer({ min: -2000, max: 600_000 }), weight: 1 }),
  offsetMs: fc.oneof(fc.constant(0), fc.integer({ min: -600_000, max: 600_000 })),
  bandMs: fc.oneof(fc.constant(0), fc.integer({ min: 0, max: 2000 })),
  contactAgeMs: fc.oneof({ arbitrary: fc.constant(0), weight: 8 }, { arbitrary: fc.integer({ min: 0, max: 900_000 }), weight: 1 }),
  decidedOnDevice: fc.oneof({ arbitrary: fc.constant(false), weight: 7 }, { arbitrary: fc.constant(true), weight: 1 }),
  siteKnown: isMostly(true),
})

/** Every act is drawn; an act without a body here would not compile. */
const command: fc.Arbitrary<Happening> = fc.oneof(
  ...(Object.keys(acts) as ActName[]).map((act) => ({
    weight: weights[act] ?? 2,
    arbitrary: fc.record({
      kind: fc.constant('command' as const),
      act: fc.constant(act),
      body: bodies[act],
      // Mostly somebody whose role may; sometimes anybody, since the core has promises of its own to keep.
      who: fc.oneof({ arbitrary: pick(...allowedTo(act)), weight: 9 }, { arbitrary: fc.nat({ max: people.length - 1 }), weight: 1 }),
      second: fc.oneof(fc.constant(null), fc.nat({ max: people.length - 2 })),
      moment,
    }),
  })),
)

function allowedTo(act: ActName): number[] {
  const allowed = people.flatMap(([, roles], index) => (roles.some((role) => acts[act].roles.includes(role as never)) ? [index] : []))
  return allowed.length > 0 ? allowed : [0]
}

const reading: fc.Arbitrary<Happening> = fc.record({
  kind: fc.constant('reading' as const),
  degrees: fc.oneof(
    { arbitrary: fc.double({ min: 22, max: 27.8, noNaN: true }), weight: 5 },
    { arbitrary: fc.double({ min: 27.9, max: 30, noNaN: true }), weight: 1 },
  ),
  settled: isMostly(true),
  zoneId: often('track', pick('gym'), 6),
  late: fc.oneof({ arbitrary: fc.constant(0), weight: 4 }, { arbitrary: fc.integer({ min: 0, max: 900_000 }), weight: 1 }),
  afterMs: fc.integer({ min: 0, max: 600_000 }),
})

export const happenings = (maxLength = 110): fc.Arbitrary<Happening[]> =>
  fc.array(fc.oneof({ arbitrary: command, weight: 10 }, { arbitrary: reading, weight: 2 }), { minLength: 10, maxLength, size: 'max' })

/** A whole random day: what happened is told in its order, and `check` looks after each entry. */
export function live(day: readonly Happening[], check: (drive: Drive, told: Told | null) => void): Drive {
  const driven = drive()
  check(
    driven,
    driven.tell(
      'openDay',
      byOf(7, null),
      inDay(driven, 'openDay', { facts: demoFacts(), rules: demoRules(), expected: bibs.map((bib) => expected(bib)) }) as never,
    ),
  )
  if (day.length % 4 !== 0) prelude(driven, day.length % 2 === 0, check)
  for (const happening of day) check(driven, tellOne(driven, happening))
  if (day.length % 3 === 0) {
    close(driven, check)
    for (const happening of day.slice(0, 30)) check(driven, tellOne(driven, happening))
  }
  return driven
}

/** Some days are brought to their seal: everybody accounted for. What is told again after that is late. */
function close(driven: Drive, check: (drive: Drive, told: Told | null) => void): void {
  const tell = (act: ActName, who: number, body: object) => check(driven, driven.tell(act, byOf(who, null), body as never))
  for (const holdId of driven.day.holds.keys()) tell('disposeHold', 4, { holdId, disposition: 'stopAndWalkIn' })
  for (const [studentId, student] of driven.day.students) {
    tell('markAbsent', 1, { studentId })
    if (student.attempts.some((attempt) => attempt.status === 'underWay'))
      tell('stopStudent', 0, { studentId, zoneId: null, reason: 'asked' })
    for (const { referralId } of student.referrals) tell('answerReferral', 2, { studentId, referralId, outcome: 'notToday' })
    tell('excuseCoolDown', 4, { studentId, reason: words })
  }
  tell('sealDay', 6, { acceptOpenReviews: words })
}

/** Most days begin in order: everybody in, cleared, warmed up and weighed, and a reading taken. */
function prelude(driven: Drive, isComplete: boolean, check: (drive: Drive, told: Told | null) => void): void {
  const tell = (act: ActName, who: number, body: object) => check(driven, driven.tell(act, byOf(who, null), body as never))
  for (const studentId of students.slice(0, 2)) {
    tell('checkIn', 1, { studentId, secondIdentifier: 'photo' })
    tell('recordClearance', 2, { clearanceId: `k-${studentId}`, studentId, status: 'cleared', limits: [], supersedes: null })
    tell('weigh', 2, {
      studentId,
      mass: { amount: 7000, unit: 'hundredthsKg', resolution: 1, method: 'scale' },
      scaleId: 'scale-1',
      keptUnusual: false,
    })
  }
  tell('confirmWarmUp', 1, { studentIds: students.slice(0, 2) })
  if (isComplete) tell('markAbsent', 1, { studentId: 's103' })
  driven.reading(25)
  check(driven, null)
}

function tellOne(driven: Drive, happening: Happening): Told | null {
  driven.time += happening.kind === 'reading' ? happening.afterMs : happening.moment.afterMs
  if (happening.kind === 'reading') {
    const { degrees, settled, zoneId, late } = happening
    driven.reading(degrees, { settled, usable: settled, zoneId: zoneId as never, late })
    return null
  }
  const { act, body, who, second, moment: told } = happening
  const { agoMs, offsetMs, bandMs, contactAgeMs, decidedOnDevice, siteKnown } = told
  const envelope: Partial<Envelope> = { occurredAt: driven.time - agoMs + offsetMs, offsetMs, bandMs, contactAgeMs, decidedOnDevice }
  return driven.tell(
    act,
    byOf(who, second),
    inDay(driven, act, body) as never,
    { ...envelope, ...(siteKnown ? {} : { now: { siteHead: 'unknown' } }) } as never,
  )
}

const byOf = (who: number, second: number | null): By => {
  const [personId, roles] = people[who]!
  const other = second === null ? null : people[second]!
  return { personId, roles, deviceId: `device-${who}`, countersigned: other && { personId: other[0], roles: other[1] } } as unknown as By
}

/** Words such as 'newest' stand for what the day has: so random commands meet what is there. */
function inDay({ day }: Drive, act: ActName, body: Record<string, unknown>): Record<string, unknown> {
  const student = day.students.get(body['studentId'] as never)
  const filled = { ...body }
  if (act === 'recordClearance' && body['supersedes'] === 'newest') filled['supersedes'] = student?.clearances.at(-1)?.clearanceId ?? null
  if (act === 'recordResult') {
    const underWay = student?.attempts.find((attempt) => attempt.status === 'underWay')
    if (body['attemptId'] === 'underWay') filled['attemptId'] = underWay?.attemptId ?? 'a1'
    if (body['stationId'] === 'underWay') filled['stationId'] = underWay?.stationId ?? 'agility'
  }
  if (act === 'recordCrossing' && body['waveId'] === 'running') {
    const runner = [...day.students.values()]
      .flatMap((one) => one.attempts)
      .find((attempt) => attempt.waveId && attempt.status === 'underWay')
    filled['waveId'] = runner?.waveId ?? 'w1'
    if (runner) filled['studentId'] = runner.studentId
  }
  if (act === 'takeBackCrossing' && body['observationId'] === 'anyTap') {
    const runner = [...day.students.values()].flatMap((one) => one.attempts).findLast((attempt) => attempt.taps.length > 0)
    filled['observationId'] = runner?.taps.at(-1)?.observationId ?? 't1'
    if (runner) Object.assign(filled, { waveId: runner.waveId, studentId: runner.studentId })
  }
  if (body['holdId'] === 'any') {
    const standing = [...day.holds.values()].filter((hold) => !hold.lifted)
    const meant = act === 'confirmLift' ? standing.find((hold) => hold.proposal) : standing.at(-1)
    filled['holdId'] = (meant ?? standing[0])?.holdId ?? 'h1'
  }
  if (act === 'proposeLift' && body['readingId'] === 'newest') filled['readingId'] = day.readings.at(-1)?.readingId ?? null
  if (act === 'rule') {
    const open = [...day.reviews.values()].filter((review) => !review.ruled)
    filled['reviewId'] = (body['reviewId'] === 'oldest' ? open[0] : open.at(-1))?.reviewId ?? 'none'
  }
  if (act === 'correct') {
    const last = student?.attempts.at(-1)
    if (body['attemptId'] === 'last') filled['attemptId'] = last?.attemptId ?? 'a1'
    const meant = student?.attempts.find((attempt) => attempt.attemptId === filled['attemptId'])
    if (body['seenRevision'] === 'seen') filled['seenRevision'] = meant?.revision ?? 0
  }
  return filled
}

export type { Command }
