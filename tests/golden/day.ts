import {
  at,
  bo,
  checksIn,
  cleared,
  coolsDown,
  crosses,
  dai,
  disposes,
  drive,
  expected,
  gun,
  holds,
  ines,
  juno,
  kilograms,
  kiosk,
  mira,
  opened,
  petra,
  rashid,
  reach,
  reads,
  ready,
  records,
  seconds,
  starts,
  stops,
  studentId,
  tells,
  tomas,
  tries,
  warmedUp,
  withSecond,
  words,
  wren,
  type Drive,
  type Step,
} from '@musterbook/day/controls'
import type { DayEntry } from '@musterbook/day/evolve'

/*
 * One day of the released rules on which everything happens that may happen at all: every kind of event, once at least. Invented, and the same
 * each time: no clock and no chance.
 */

const of = (bib: string) => ({ studentId: studentId(bib) })

const morning: Step[] = [
  opened([
    expected('101'),
    expected('102 W 27'),
    expected('103'),
    expected('104 W 31'),
    expected('105'),
    expected('106'),
    expected('107 W 22'),
    expected('108'),
  ]),
  tells('assignStaff', ines, { personId: 'mira', stationId: 'agility', qualified: true, acceptedBecause: null }),
  tells('assignStaff', tomas, { personId: 'bo', stationId: 'sitAndReach', qualified: false, acceptedBecause: words }),
  tells('releaseStaff', ines, { personId: 'bo', stationId: 'sitAndReach' }),
  tells('checkEquipment', mira, { equipmentId: 'watch-1', passed: true, reference: null, read: null }),
  tells('walkIn', ines, { studentId: 's109', classId: 'lark-7', normGroup: { sex: 'M', ageYears: 25 }, language: 'es' }),
  tells('briefClass', tomas, {
    briefingId: 'briefing-1',
    studentIds: ['s101', 's102', 's103'],
    stationIds: ['agility', 'run'],
    language: 'en',
  }),
  ready('101', '102', '103', '104', '105', '109'),
  tells('bindBib', ines, { ...of('104'), bib: '204' }),
  tells('markAbsent', ines, of('106')),
  checksIn('107'),
  tells('withdraw', ines, of('107')),
  tells('changeNormGroup', withSecond(ines, tomas), { ...of('105'), normGroup: { sex: 'M', ageYears: 30 }, reason: words }),
  cleared('104', { status: 'limited', limits: [{ kind: 'noMaximalLift' }] }, dai),
  cleared('104', { clearanceId: 'clearance-settled-104', supersedes: 'clearance-dai-104' }),
  checksIn('108'),
  cleared('108'),
  warmedUp('108'),
  tells('withdrawClearance', petra, { clearanceId: 'clearance-petra-108', ...of('108') }),
  starts('108', 'agility', 'never'),
]

const gym: Step[] = [
  at('09:00'),
  ...(['joinQueue', 'callUp', 'sendBack', 'leaveQueue'] as const).map((act) => tells(act, mira, { ...of('101'), stationId: 'agility' })),
  tries('101', 'agility', 'a1', seconds(1712)),
  tries('101', 'agility', 'a2', null, { outcome: 'foul', fault: 'coneMoved' }),
  tries('102', 'agility', 'a3', seconds(1903)),
  records('102', 'agility', 'a3', seconds(1911), {}, {}, juno),
  tells('acknowledgeDifference', tomas, { attemptId: 'a3', ...of('102') }),
  starts('103', 'agility', 'a4'),
  tells('releaseAttempt', mira, { attemptId: 'a4', ...of('103') }),
  tries('103', 'sitAndReach', 'r1', reach(331)),
  tells('disputeReadBack', mira, { attemptId: 'r1', ...of('103'), observationId: 'o-r1-mira' }),
  tells('answerPrompt', mira, {
    prompt: 'unusualValue',
    ...of('103'),
    attemptId: 'r1',
    shown: 'Outside the usual range.',
    answer: 'keep',
    reason: null,
  }),
  tries('101', 'benchPress', 'b1', kilograms(825)),
  tries('105', 'sitAndReach', 'r2', reach(287)),
  tells('correct', mira, {
    correctionId: 'correction-1',
    ...of('105'),
    attemptId: 'r2',
    change: { kind: 'value', value: reach(278) },
    reason: words,
    seenRevision: 1,
  }),
  rulesFirst('readBackDisputed', 'counts'),
]

const track: Step[] = [
  at('10:00'),
  reads(25),
  gun('w1', ['101', '102', '103']),
  ...['2:00', '4:00', '6:00', '8:00', '10:00', '12:00'].map((lap) => crosses('w1', '101', lap)),
  ...['2:10', '4:20', '8:40', '10:50'].map((lap) => crosses('w1', '102', lap)),
  crosses('w1', '102', '13:00', 'finish'),
  tells('inferLap', tomas, { observationId: 'lap-seen', waveId: 'w1', ...of('102'), elapsedMs: 390_000, witnessId: 'wren' }),
  crosses('w1', '103', '13:30'),
  tells('takeBackCrossing', wren, { observationId: 'tap-w1-103-13:30-track-1', waveId: 'w1', ...of('103') }),
  stops('103'),
  tells('nameStopper', bo, { ...of('103'), stopCommandId: 'c1', personId: 'bo' }),
  tells('answerStop', petra, { ...of('103'), answer: 'arrived' }),
  tells('refer', petra, { referralId: 'referral-1', ...of('103'), to: 'clinician' }),
  tells('answerReferral', petra, { referralId: 'referral-1', ...of('103'), outcome: 'cleared' }),
  ...['101', '102'].map(coolsDown),
  tells('excuseCoolDown', petra, { ...of('103'), reason: words }),
  tells('reportHealthEvent', petra, { ...of('109'), words: null }),
  tells('callStaff', kiosk, { callId: 'call-1' }),
  tells('answerCall', bo, { callId: 'call-1' }),
]

const held: Step[] = [
  tells('confirmByRadio', wren, { stationId: 'run', waveId: 'w2', spokeTo: 'rashid', words }, { at: '10:20' }),
  gun('w2', ['104', '105'], { at: '10:24' }),
  reads(28.3, { readAt: '10:28' }),
  tells('acknowledgeHold', wren, { holdId: 'hold-of-reading-2' }),
  disposes('hold-of-reading-2'),
  tells('takeHeadcount', wren, { zoneId: 'track', present: ['s104'] }),
  ...['104', '105'].map(coolsDown),
  reads(26.4, { readAt: '10:50' }),
  tells('proposeLift', rashid, { holdId: 'hold-of-reading-2', readingId: 'reading-3', reason: null }),
  tells('confirmLift', tomas, { holdId: 'hold-of-reading-2' }),
  holds('hold-lightning', { kind: 'lightning', zoneId: null }),
  tells('observeHazard', rashid, { kind: 'thunder', zoneId: null, value: null }),
]

const evening: Step[] = [
  tells('grantRetest', tomas, {
    entitlementId: 'entitlement-1',
    ...of('101'),
    stationIds: ['agility'],
    until: '2027-05-20',
    reason: words,
  }),
  tells('signOffStudent', tomas, of('101')),
  tells('sealDay', tomas, { acceptOpenReviews: words }, { at: '15:00' }),
  records('102', 'agility', 'late', seconds(1880), {}, { at: '18:00' }),
  rulesFirst('lateAfterSeal', 'doesNotCount'),
  tells('reopen', withSecond(tomas, ines), { reason: words }),
  tells('sealDay', tomas, { acceptOpenReviews: words }),
]

/** The first review that waits for this reason, ruled on by somebody who did not record it. */
function rulesFirst(because: string, ruling: string): Step {
  return (driven) => {
    const [reviewId] = [...driven.day.reviews].find(([, review]) => review.because === because && !review.ruled) ?? []
    if (!reviewId) throw new Error(`nothing waits because of ${because}`)
    return driven.tell('rule', tomas, { reviewId, ruling, reason: words } as never)
  }
}

/** The one start that the day refuses, since a refusal is kept too. */
const refusals = 1

export function goldenDay(): readonly DayEntry[] {
  const driven: Drive = drive()
  for (const step of [...morning, ...gym, ...track, ...held, ...evening]) step(driven)
  const refused = driven.entries.flatMap((entry) => entry.events).filter((event) => event.type === 'actRefused')
  if (refused.length !== refusals) throw new Error(`the golden day went another way: ${JSON.stringify(refused)}`)
  if (driven.day.anomalies.length > 0) throw new Error(`the golden day does not fit: ${JSON.stringify(driven.day.anomalies)}`)
  return driven.entries
}
