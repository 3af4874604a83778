import { describe, expect, test } from 'vitest'
import {
  all,
  at,
  bo,
  clock,
  crosses,
  disposes,
  expected,
  gun,
  holds,
  kilograms,
  locked,
  opened,
  rashid,
  reach,
  reads,
  ready,
  records,
  starts,
  studentId,
  tells,
  tomas,
  tries,
  words,
  wren,
  colm,
  demoRules,
  demoStations,
  coolsDown,
} from '../controls.ts'
import type { DayRules } from '@musterbook/vocabulary/rules'
import { clockTime, isOutdoors, type Day } from '../day.ts'
import { given } from '../given.ts'
import { boardView, publicView } from '../views/board.ts'
import { inboxView } from '../views/inbox.ts'
import { recordView } from '../views/record.ts'
import { safetyView } from '../views/safety.ts'
import { stationView } from '../views/station.ts'

/* HP-1 is invented: a hold at 28.0 °C and above, readings valid 30 min, a lift 15 min after the raise. */

const runOf = (day: Day, bib: string) => recordView(day, studentId(bib))?.stations.find((station) => station.stationId === 'run')?.result
const twelve = Array.from({ length: 12 }, (_, index) => String(101 + index))
const readyFor = (...bibs: string[]) => readyUnder(demoRules(), ...bibs)
const readyUnder = (rules: DayRules, ...bibs: string[]) =>
  given(
    opened(
      [...bibs, '150'].map((bib) => expected(bib)),
      rules,
    ),
    ready(...bibs, '150'),
    at('10:00'),
    reads(25),
  )

describe('a hold and a start in the same second', () => {
  const gunAt = { at: '10:15:07.0', bandMs: 400 }

  test('gun first in the record, bands overlap: the order is not certain, a disposition is due, nothing counts', () => {
    const uncertain = readyFor('101', '102')
      .when(gun('w1', ['101', '102'], gunAt), holds('h1', {}, { at: '10:15:07.3', bandMs: 200 }))
      .then({ events: [{ type: 'holdRaised', underWay: [{ orderNotCertain: true }, { orderNotCertain: true }] as never }] })
    expect(safetyView(uncertain.day).holds[0]).toMatchObject({ dispositionDue: 2, underWay: [{ orderNotCertain: true }, {}] })
    expect(stationView(uncertain.day, 'run')?.waves[0]).toMatchObject({ open: true, runners: [{ status: 'held' }, {}] })
    uncertain
      .when(tells('proposeLift', rashid, { holdId: 'h1', readingId: 'reading-1', reason: null }))
      .then({ refused: 'dispositionDue' })
      .when(disposes('h1'))
    for (const bib of ['101', '102']) expect(runOf(uncertain.day, bib)).toMatchObject({ state: 'interrupted', percentile: null })
    expect(stationView(uncertain.day, 'run')?.students.map((one) => one.triesUsed)).toEqual([0, 0, 0])
  })

  test('hold first in the record, bands overlap: the gun is kept, the hold governs, and it waits as not certain', () => {
    const uncertain = readyFor('101')
      .when(
        holds('h1', {}, { at: '10:15:07.3', bandMs: 200 }),
        gun('w1', ['101'], { ...gunAt, at: '10:15:08', occurredAt: clock('10:15:07.0') }),
      )
      .then({
        events: [{ type: 'waveStarted', underHold: 'h1' as never }, 'attemptStarted', { type: 'reviewOpened', because: 'orderNotCertain' }],
      })
    expect(safetyView(uncertain.day).holds[0]).toMatchObject({ dispositionDue: 1, underWay: [{ bib: '101', orderNotCertain: true }] })
    uncertain.when(disposes('h1')).then({ events: ['holdDisposed', 'attemptInterrupted', 'retestGranted', 'reviewSettled'] })
  })

  test('a gun after the hold, clearly, is refused', () => {
    readyFor('101')
      .when(holds('h1', {}, { at: '10:15:07.3', bandMs: 200 }), gun('w1', ['101'], { at: '10:15:09.0', bandMs: 400 }))
      .then({ refused: 'holdInForce', says: /A hold is in force in Track since 10:15/ })
  })

  test('control: the hold two seconds after the gun orders clearly', () => {
    readyFor('101')
      .when(gun('w1', ['101'], gunAt), holds('h1', {}, { at: '10:15:09.0', bandMs: 200 }))
      .then({ events: [{ type: 'holdRaised', underWay: [{ orderNotCertain: false }] as never }] })
  })

  test('of two holds, one clearly before the gun refuses it, whatever is uncertain about the other', () => {
    readyFor('101')
      .when(
        holds('h1', {}, { at: '10:15:07.3', bandMs: 200 }),
        holds('h2', { kind: 'lightning' }, { at: '10:15:07.4', occurredAt: clock('10:10') }),
        gun('w1', ['101'], { ...gunAt, at: '10:15:08', occurredAt: clock('10:15:07.0') }),
      )
      .then({ refused: 'holdInForce' })
  })
})

describe('twelve on lap 4', () => {
  const onLapFour = () =>
    readyFor(...twelve)
      .when(gun('w1', twelve, { at: '10:18' }), ...twelve.flatMap((bib) => ['2:00', '4:00', '6:00'].map((lap) => crosses('w1', bib, lap))))
      .when(reads(28.3, { readAt: '10:25', siteVersion: 2 }))
  const heat = 'hold-of-reading-2'

  test('the reading raises it and lists all twelve at once', () => {
    const { day } = onLapFour()
    expect(safetyView(day).holds[0]).toMatchObject({ kind: 'heat', raisedBy: 'policy', dispositionDue: 12 })
    expect(day.holds.get(heat as never)?.underWay.map((one) => one.studentId)).toEqual(twelve.map(studentId))
    expect(publicView(day).holds).toMatchObject([{ kind: 'heat', zoneId: null }])
    // Over all that is outdoors, each outdoor station says so and no indoor one.
    expect(
      publicView(day)
        .queues.filter(({ held }) => held)
        .map(({ name }) => name),
    ).toEqual(day.opened!.rules.stations.filter((station) => isOutdoors(day, station)).map(({ protocol }) => protocol['name']))
  })

  test('stop and walk in: interrupted by safety, laps kept, no score, no used try, an entitlement each', () => {
    const stopped = onLapFour()
      .when(disposes(heat))
      .then({ events: ['holdDisposed', ...twelve.flatMap(() => ['attemptInterrupted', 'retestGranted'] as const)] })
    for (const bib of twelve) {
      const record = recordView(stopped.day, studentId(bib))
      expect(runOf(stopped.day, bib)).toMatchObject({ state: 'interrupted', because: 'hold', percentile: null, amount: null })
      expect(record?.entitlements).toMatchObject([{ because: 'hold', stationIds: ['run'], until: '2027-05-25' }])
    }
    expect(stationView(stopped.day, 'run')?.waves[0]?.runners[0]).toMatchObject({ status: 'interrupted', laps: 3 })
    expect(stationView(stopped.day, 'run')?.students.every((student) => student.triesUsed === 0)).toBe(true)
    stopped
      .when(tells('takeHeadcount', wren, { zoneId: 'track', present: twelve.slice(1).map(studentId) }))
      .then({ events: [{ type: 'headcountTaken', missing: ['s101'] as never }] })
      .when(starts('150', 'benchPress', 'b1', { load: kilograms(500) }, {}, colm))
      .then({ events: ['attemptStarted'] })
      .when(records('150', 'benchPress', 'b1', kilograms(500)), gun('w2', ['150']))
      .then({ refused: 'holdInForce', says: /in force in Track since 10:25/ })
  })

  test('the list of who has heard it is complete only when the track has', () => {
    const raised = onLapFour()
    expect(safetyView(raised.day).holds[0]?.notHeard).toContain('track-1')
    raised.when(tells('acknowledgeHold', wren, { holdId: heat }))
    expect(safetyView(raised.day).holds[0]?.notHeard).not.toContain('track-1')
    expect(safetyView(raised.day).holds[0]?.heard).toMatchObject([{ deviceId: 'track-1', personId: 'wren' }])
  })

  test('heard by radio is somebody’s note: who said it and who noted it stand there, and the tablet itself has still not acknowledged', () => {
    const noted = onLapFour().when(
      tells('noteHeardByRadio', rashid, { holdId: heat, deviceId: 'track-1', saidBy: 'wren', words }, { decidedOnDevice: true }),
    )
    noted.then({ events: ['holdHeardByRadio'] })
    const [hold] = safetyView(noted.day).holds
    expect(hold?.heardByRadio).toMatchObject([{ deviceId: 'track-1', saidBy: 'wren', notedBy: 'rashid' }])
    expect(hold?.heard.map(({ deviceId }) => deviceId)).not.toContain('track-1')
    expect(hold?.notHeard).toContain('track-1')
    noted.when(tells('acknowledgeHold', wren, { holdId: heat }))
    expect(safetyView(noted.day).holds[0]).toMatchObject({ heardByRadio: [{ saidBy: 'wren' }] })
    expect(safetyView(noted.day).holds[0]?.notHeard).not.toContain('track-1')
  })

  test('who was seen at a headcount stays seen on every device, until a count found everybody, a hold is raised or they set out anew', () => {
    const sees = (by: typeof wren, bibs: string[], seen = true, moment = {}) =>
      tells('seeAtHeadcount', by, { zoneId: 'track', studentIds: bibs.map(studentId), seen }, moment)
    const counts = (...bibs: string[]) => tells('takeHeadcount', rashid, { zoneId: 'track', present: bibs.map(studentId) })
    const seenIn = ({ day }: { day: Day }) =>
      safetyView(day).heads.flatMap(({ expected }) => expected.filter(({ seen }) => seen).map(({ bib }) => bib))

    const counted = onLapFour().when(sees(wren, twelve, true, { at: '10:24:59' }))
    expect(seenIn(counted)).toEqual([])
    counted
      .when(disposes(heat), at('10:27'), sees(wren, ['101', '102']), sees(rashid, ['103']), sees(rashid, ['102'], false))
      .then({ events: [{ type: 'seenAtHeadcount', seen: false }] })
    expect(seenIn(counted)).toEqual(['101', '103'])
    expect(safetyView(counted.day).heads[0]?.expected).toHaveLength(12)
    // Told late from out of contact: what was touched since stands.
    expect(seenIn(counted.when(sees(bo, ['103'], false, { occurredAt: clock('10:26') })))).toEqual(['101', '103'])
    expect(seenIn(counted.when(counts('101', '103')))).toEqual(['101', '103'])
    expect(seenIn(counted.when(sees(wren, twelve)))).toEqual(twelve)
    expect(seenIn(counted.when(counts(...twelve)))).toEqual([])
    expect(seenIn(counted.when(sees(wren, ['101'])))).toEqual(['101'])
    expect(seenIn(counted.when(holds('h2', { kind: 'lightning' })))).toEqual([])
  })

  test('who is let finish waits for a ruling, and who starts under it out of contact is due an outcome of their own', () => {
    const letRun = onLapFour()
      .when(disposes(heat, 'finishTheRun'))
      .then({ events: ['holdDisposed'] })
      .when(all(...['8:00', '10:00'].map((lap) => crosses('w1', '101', lap))), crosses('w1', '101', '12:00'))
      .then({ events: ['crossingRecorded', 'finishRecorded', { type: 'reviewOpened', because: 'ranUnderHold' }] })
    expect(runOf(letRun.day, '101')).toMatchObject({ state: 'underReview', amount: null })
    letRun.when(gun('w2', ['150'], { decidedOnDevice: true, contactAgeMs: 280_000 }))
    expect(safetyView(letRun.day).holds[0]).toMatchObject({ dispositionDue: 1 })
    expect(inboxView(letRun.day).items.some((item) => item.kind === 'disposition')).toBe(true)
  })

  test('once it is lifted and the lap is walked, an interrupted student runs again the same day and no try is used', () => {
    const again = onLapFour()
      .when(disposes(heat), reads(26, { readAt: '10:45', siteVersion: 3 }))
      .when(
        tells('proposeLift', rashid, { holdId: heat, readingId: 'reading-3', reason: null }),
        tells('confirmLift', tomas, { holdId: heat }),
        gun('w2', ['101']),
      )
      .then({ refused: 'runnerMayNotStart', says: /#101: The cool-down lap and look-over are due/ })
      .when(coolsDown('101'), gun('w2', ['101']))
      .then({ events: ['waveStarted', { type: 'attemptStarted', number: 1, reviewId: null }] })
      .when(...['2:00', '4:00', '6:00', '8:00', '10:00', '12:00'].map((lap) => crosses('w2', '101', lap)))
    expect(runOf(again.day, '101')).toMatchObject({ state: 'provisional', percentile: 50 })
    expect(recordView(again.day, 's101')?.stations.find((one) => one.stationId === 'run')?.attempts).toMatchObject([
      { status: 'interrupted' },
      { status: 'recorded' },
    ])
  })
})

describe('lifting', () => {
  const proposes = (readingId: string, time: string) =>
    tells('proposeLift', rashid, { holdId: 'h1', readingId, reason: null }, { at: time })
  const held = () => readyFor('101').when(reads(27.6, { readAt: '10:20', siteVersion: 2 }), holds('h1', {}, { at: '10:25' }))

  test('only on a settled reading after the raise, and only when a second, different person confirms', () => {
    const lifted = held()
      .when(proposes('reading-2', '10:35'))
      .then({ refused: 'readingOlderThanHold', says: /older than the hold/ })
      .when(reads(27.1, { readAt: '10:41', siteVersion: 3, settled: false, usable: false }), proposes('reading-3', '10:41:30'))
      .then({ refused: 'instrumentNotSettled', says: /had not settled/ })
      .when(reads(27.1, { readAt: '10:50', siteVersion: 4 }), proposes('reading-4', '10:50:30'))
      .then({ events: ['liftProposed'] })
      .when(tells('confirmLift', rashid, { holdId: 'h1' }))
      .then({ refused: 'secondPersonSame', says: /must be a different one/ })
      .when(tells('confirmLift', tomas, { holdId: 'h1' }))
      .then({ events: [{ type: 'holdLifted', proposedBy: 'rashid' as never, readingId: 'reading-4' as never }] })
    expect(stationView(lifted.day, 'run')?.hold).toBeNull()
    expect(clockTime(lifted.day, stationView(lifted.day, 'run')?.reading?.readAt ?? 0)).toBe('10:50')
    expect(JSON.stringify(boardView(lifted.day)) + JSON.stringify(safetyView(lifted.day))).not.toMatch(/safe to|clear to run|all clear/i)
  })

  test('a reading of the gym lifts nothing on the track', () => {
    held()
      .when(reads(21, { readAt: '10:50', siteVersion: 3, zoneId: 'gym' as never }), proposes('reading-3', '10:51'))
      .then({ refused: 'readingMissing' })
  })

  test('the evidence is asked again when the second person confirms', () => {
    held()
      .when(
        reads(27.1, { readAt: '10:50', siteVersion: 3 }),
        proposes('reading-3', '10:51'),
        reads(27.95, { readAt: '10:52', siteVersion: 4, wbgtTenths: 280 }),
      )
      .when(tells('confirmLift', tomas, { holdId: 'h1' }))
      .then({ refused: 'laterReadingNotBelow' })
  })

  test.each([
    { kind: 'air', figure: { airHoldFrom: 151 }, sees: 'airIndex', calls: 151, lets: 150 },
    { kind: 'cold', figure: { coldHoldAtTenthsDegC: -278 }, sees: 'windChill', calls: -278, lets: -277 },
  ])('$kind is held at the site’s figure: only a newest value on its other side lifts', ({ kind, figure, sees, calls, lets }) => {
    const sawAt = (value: number | null, time: string) => tells('observeHazard', rashid, { kind: sees, zoneId: null, value }, { at: time })
    const proposes = tells('proposeLift', rashid, { holdId: 'k', readingId: null, reason: words })
    readyUnder(demoRules(figure), '101')
      .when(sawAt(lets, '09:50'), holds('k', { kind }, { at: '10:00' }), proposes)
      .then({ refused: 'observationMissing' })
      .when(sawAt(null, '10:10'), proposes)
      .then({ refused: 'observationMissing' })
      .when(sawAt(calls, '10:20'), proposes)
      .then({ refused: 'stillCallsForHold' })
      .when(sawAt(lets, '10:30'), proposes)
      .then({ events: ['liftProposed'] })
      .when(sawAt(calls, '10:40'), tells('confirmLift', tomas, { holdId: 'k' }))
      .then({ refused: 'stillCallsForHold' })
      .when(sawAt(lets, '10:50'), tells('confirmLift', tomas, { holdId: 'k' }))
      .then({ events: ['holdLifted'] })
  })

  test('only a safety officer proposes, and nothing is confirmed that was not proposed', () => {
    held()
      .when(tells('proposeLift', tomas, { holdId: 'h1', readingId: null, reason: words }))
      .then({ refused: 'onlySafetyOfficer' })
      .when(tells('confirmLift', tomas, { holdId: 'h1' }))
      .then({ refused: 'liftNotProposed' })
  })

  test('lightning waits from the last thunder or flash, cold and air for a new observation, any other for a reason', () => {
    const lifts = (holdId: string, reason: unknown = null, time?: string) =>
      tells('proposeLift', rashid, { holdId, readingId: null, reason }, time ? { at: time } : {})
    const sees = (kind: string, time: string) => tells('observeHazard', rashid, { kind, zoneId: null, value: 10 }, { at: time })
    readyFor('101')
      .when(holds('l', { kind: 'lightning' }, { at: '10:10' }), sees('thunder', '10:30'), lifts('l', null, '10:59:59'))
      .then({ refused: 'lightningClock', says: /Last thunder or flash 29 min ago; the policy waits 30 min/ })
      .when(lifts('l', null, '11:00'), sees('flash', '11:00:30'), tells('confirmLift', tomas, { holdId: 'l' }))
      .then({ refused: 'lightningClock' })
      .when(holds('c', { kind: 'cold' }), lifts('c'))
      .then({ refused: 'observationMissing' })
      .when(sees('airIndex', '11:05'), lifts('c'))
      .then({ refused: 'observationMissing' })
      .when(sees('windChill', '11:06'), lifts('c'))
      .then({ refused: 'figureMissing' })
      .when(lifts('c', words))
      .then({ events: ['liftProposed'] })
      .when(holds('o', { kind: 'other' }), lifts('o'))
      .then({ refused: 'reasonMissing' })
      .when(lifts('o', words))
      .then({ events: ['liftProposed'] })
  })
})

test('a stale reading: outdoor starts are refused, laps of the wave that runs are recorded', () => {
  readyFor('101', '102')
    .when(reads(25, { readAt: '10:50', siteVersion: 2 }), gun('w2', ['101'], { at: '11:19' }), gun('w3', ['102'], { at: '11:21' }))
    .then({ refused: 'readingStale', says: /The last reading is 31 min old/, next: /new reading is needed before outdoor starts/ })
    .when(crosses('w2', '101', '2:01'))
    .then({ events: [{ type: 'crossingRecorded', ignored: null }] })
    .and((day) => expect(safetyView(day).newest?.validUntil).toBe(clock('11:20')))
})

test('nobody starts outdoors while it is not known that every reading of the site has arrived', () => {
  readyFor('101')
    .when(gun('w1', ['101'], { now: { siteHead: 'unknown' } }))
    .then({ refused: 'siteUnread' })
  readyFor('101')
    .when(gun('w1', ['101'], { now: { siteHead: 9 } }))
    .then({ refused: 'siteUnread' })
  given(opened([expected('101')]), ready('101'))
    .when(gun('w1', ['101']))
    .then({ refused: 'noReading' })
})

test('a locked device raises a hold, and an id in use never swallows another', () => {
  readyFor('101')
    .when(holds('h1', { kind: 'other' }, {}, locked))
    .then({ events: [{ type: 'holdRaised', raisedBy: 'device' }] })
    .when(holds('h1', { kind: 'other' }, {}, wren))
    .then({ events: [{ type: 'holdAcknowledged', deviceId: 'track-1' as never }] })
    .when(holds('h1', { kind: 'lightning', zoneId: null }, {}, wren))
    .then({ events: ['holdRaised'] })
    .and((day) => expect(safetyView(day).holds).toHaveLength(2))
})

test('an indoor protocol that stands in an outdoor zone is outdoors', () => {
  const stations = demoStations.map((station) => (station.stationId === 'agility' ? { ...station, zoneId: 'track' as never } : station))
  given(opened([expected('101')], demoRules({ stations })), ready('101'))
    .when(starts('101', 'agility', 'a1'))
    .then({ refused: 'noReading' })
    .when(at('10:00'), reads(25), starts('101', 'agility', 'a1'), holds('h1', { zoneId: null }))
    .then({ events: [{ type: 'holdRaised', underWay: [{ stationId: 'agility' }] as never }] })
    .when(records('101', 'agility', 'a1', { amount: 1700, unit: 'hundredthsOfSecond', resolution: 1, method: 'hand' }))
    .then({ events: ['resultRecorded', { type: 'reviewOpened', because: 'ranUnderHold' }] })
})

describe('out of contact', () => {
  const lost = (time: string, over = {}) => ({ at: time, contactAgeMs: clock(time) - clock('10:31'), ...over })

  test('past the contact age a start is refused, and one named wave goes on the word of the safety officer', () => {
    const radio = (waveId: string | null) => tells('confirmByRadio', wren, { stationId: 'run', waveId, spokeTo: 'rashid', words })
    readyFor('101')
      .when(reads(25, { readAt: '10:30', siteVersion: 2 }), gun('w1', ['101'], lost('10:36:10')))
      .then({ refused: 'outOfContact', says: /cannot be confirmed: no contact for 5 min/, next: /Radio the safety officer/ })
      .when(radio('w9'), gun('w1', ['101'], lost('10:36:20')))
      .then({ refused: 'outOfContact' })
      .when(radio('w1'), gun('w1', ['101'], lost('10:37')))
      .then({ events: ['waveStarted', 'attemptStarted'] })
  })

  test('the word covers one contact-age period, which a clock that runs ahead does not stretch', () => {
    const radio = tells(
      'confirmByRadio',
      wren,
      { stationId: 'run', waveId: 'w1', spokeTo: 'rashid', words },
      { at: '10:40', occurredAt: clock('12:00') },
    )
    given(opened([expected('101')]), ready('101'), at('10:30'), reads(25))
      .when(radio, gun('w1', ['101'], lost('10:45:01')))
      .then({ refused: 'outOfContact' })
  })

  test('maximal efforts indoors ask for contact too, a stretch does not', () => {
    readyFor('101')
      .when(starts('101', 'benchPress', 'b1', { load: kilograms(500) }, lost('10:36:10')))
      .then({ refused: 'outOfContact' })
      .when(starts('101', 'sitAndReach', 'r1', {}, lost('10:36:10')))
      .then({ events: ['attemptStarted'] })
  })

  const offlineGun = () =>
    gun('w1', ['101'], lost('10:35:40', { decidedOnDevice: true, occurredAt: clock('10:35:40'), at: '10:37:05', contactAgeMs: 280_000 }))

  test('a gun fired within the contact age runs on under the hold that it could not know: kept, due an outcome, waits', () => {
    const ran = readyFor('101')
      .when(holds('h1', {}, { at: '10:35' }), offlineGun())
      .then({
        events: [{ type: 'waveStarted', underHold: 'h1' as never }, 'attemptStarted', { type: 'reviewOpened', because: 'ranUnderHold' }],
      })
    expect(safetyView(ran.day).holds[0]).toMatchObject({ dispositionDue: 1 })
    expect(runOf(ran.day, '101')).toMatchObject({ state: 'underReview', amount: null })
  })

  test('told when the hold is long lifted, it ran under it all the same', () => {
    readyFor('101')
      .when(
        holds('h1', { kind: 'other' }, { at: '10:35' }),
        tells('proposeLift', rashid, { holdId: 'h1', readingId: null, reason: words }, { at: '10:36' }),
        tells('confirmLift', tomas, { holdId: 'h1' }, { at: '10:36:30' }),
        offlineGun(),
      )
      .then({ events: [{ type: 'waveStarted', underHold: null }, 'attemptStarted', { type: 'reviewOpened', because: 'ranUnderHold' }] })
  })

  test('a hold raised out of contact stands from when it was raised: what ended under it meanwhile waits', () => {
    const sprints = demoStations.map((station) =>
      station.stationId === 'sitAndReach' ? { ...station, zoneId: 'track' as never } : station,
    )
    given(opened([expected('101')], demoRules({ stations: sprints })), ready('101'), at('10:00'), reads(25))
      .when(at('10:05'), tries('101', 'sitAndReach', 'r1', reach(300)), at('10:20'), tries('101', 'sitAndReach', 'r2', reach(310)))
      .when(holds('h1', {}, { at: '10:30', occurredAt: clock('10:10'), decidedOnDevice: true }, wren))
      .then({ events: ['holdRaised', { type: 'reviewOpened', because: 'ranUnderHold', about: { attemptId: 'r2' } as never }] })
      .and((day) => expect(recordView(day, 's101')?.stations[2]?.result).toMatchObject({ amount: 300, state: 'underReview' }))
  })

  test('a start told late is held against the day as it was: stopped, not cleared yet, not warmed up yet', () => {
    const lateStart = (time: string) =>
      starts('150', 'sitAndReach', 'r1', {}, { at: '11:00', occurredAt: clock(time), decidedOnDevice: true })
    const because = (reason: string) => ({ events: ['attemptStarted', { type: 'reviewOpened', because: reason } as never] as const })
    const stop = tells('stopStudent', bo, { studentId: 's150', zoneId: null, reason: 'unwell' }, { at: '10:10' })
    const restored = tells('restore', { ...rashid, roles: ['screener'] }, { studentId: 's150' }, { at: '10:20' })
    readyFor('101').when(stop, restored, lateStart('10:15')).then(because('stopped'))
    readyFor('101')
      .when(stop, restored, lateStart('10:25'))
      .then({ events: ['attemptStarted'] })
    readyFor('101').when(lateStart('07:59')).then(because('notCleared'))
  })

  test('nothing that has happened is refused, not even of somebody or something unknown', () => {
    const happened = { decidedOnDevice: true }
    readyFor('101')
      .when(starts('999', 'sitAndReach', 'r1', {}, happened))
      .then({ events: ['attemptStarted', { type: 'reviewOpened', because: 'unreadable' }] })
      .when(starts('101', 'nowhere', 'r2', {}, happened))
      .then({ events: ['attemptStarted', { type: 'reviewOpened', because: 'unreadable' }] })
      .when(gun('w1', ['999', '101'], happened))
      .then({ events: ['waveStarted', 'attemptStarted', { type: 'reviewOpened', because: 'unreadable' }, 'attemptStarted'] })
      .when(gun('w1', ['101'], happened, {}, bo))
      .then({ events: ['waveStarted', 'attemptStarted'] })
      .and((day) => {
        expect(day.students.get(studentId('101'))?.attempts).toHaveLength(1)
        expect(inboxView(day).items.filter((item) => item.kind === 'anomaly').length).toBeGreaterThan(0)
      })
  })
})
