import { shape, type Student } from '@musterbook/day/day'
import { words } from '@musterbook/day/controls'
import { sitesOf } from '@musterbook/stations/skinfold'
import type { Turn } from './staff.ts'

type Station = 'skinfold' | 'agility' | 'sitAndReach' | 'benchPress'

const tries: Record<Station | 'run', number> = { skinfold: 1, agility: 2, sitAndReach: 3, benchPress: 4, run: 1 }
const rests: Record<Station | 'run', number> = { skinfold: 0, agility: 180_000, sitAndReach: 0, benchPress: 120_000, run: 300_000 }
const lasts: Record<Station, number> = { skinfold: 25_000, agility: 18_000, sitAndReach: 9_000, benchPress: 12_000 }

/** As the caller at the station sees it: is there anything plainly in the way? */
export function looksReady(student: Student, stationId: Station | 'run', now: number): boolean {
  const state = shape(student)
  if (state.presence !== 'present' || state.effort !== 'free' || state.coolDown === 'due' || student.stop || student.healthEvent)
    return false
  if (student.clearance.status !== 'cleared' && student.clearance.status !== 'limited') return false
  if (stationId !== 'skinfold' && state.warmUp !== 'done') return false
  if (student.calledTo !== null && student.calledTo.stationId !== stationId) return false
  const { barred } = student.machine.context as { barred: readonly string[] }
  if (barred.includes(stationId)) return false
  const here = student.attempts.filter((attempt) => attempt.stationId === stationId)
  const used = here.filter((attempt) => attempt.official && ['recorded', 'underWay', 'void'].includes(attempt.status))
  return used.length < tries[stationId] && here.every((attempt) => now - (attempt.endedAt ?? 0) > rests[stationId])
}

/** One person at one station: call the next one up, start, wait, write down. */
export function stationTurn(turn: Turn, station: Station): void {
  const { device, isClosing, day } = turn
  if (device.inHand) return goesOn(turn, station)
  if (day.sealed) return lateResult(turn, station)
  if (!isClosing) begins(turn, station)
}

function begins(turn: Turn, stationId: Station): void {
  const { device, luck, no, now, students, isImpatient } = turn
  const fitting = students.filter((student) => looksReady(student, stationId, now))
  const next = isImpatient
    ? luck.among(students)
    : (fitting.find((student) => student.calledTo?.stationId === stationId) ?? luck.among(fitting.slice(0, 6)))
  if (!next) return
  const { studentId } = next
  const place = { studentId, stationId }
  const queued = next.queue.some((one) => one.stationId === stationId)
  if (!isImpatient && !queued && luck.is(0.12)) return void device.press(`${no}-queue`, 'joinQueue', place)
  if (!isImpatient && queued && next.calledTo?.stationId !== stationId) return void device.press(`${no}-call`, 'callUp', place)
  if (luck.is(0.01)) device.press(`${no}-leaves`, luck.one('leaveQueue', 'sendBack'), place)

  const official = luck.is(0.95)
  const attemptId = `${stationId}-${no}`
  const load =
    stationId === 'benchPress' ? { amount: 400 + 25 * luck.between(0, 20), unit: 'tenthsKg', resolution: 25, method: 'loaded' } : null
  const pressed = device.press(`${no}-start`, 'startAttempt', {
    attemptId,
    studentId,
    stationId,
    official,
    load,
    equipmentIds: stationId === 'agility' ? ['watch-1'] : [],
    observerId: luck.is(0.7) ? null : 'bo',
    earlyBecause: luck.is(0.3) ? words : null,
  })
  // The impatient run although the screen said no: it happened, and is written down.
  if (pressed && (pressed.state !== 'refused' || luck.is(0.1))) {
    device.inHand = { pressed, studentId, stationId, attemptId, official, readyAt: now + lasts[stationId] }
  }
}

function goesOn(turn: Turn, stationId: Station): void {
  const { device, luck, no, now, day, isImpatient } = turn
  const { pressed, studentId, attemptId, official, readyAt } = device.inHand!
  const isRefused = pressed.state === 'refused' && pressed.command.envelope.decidedOnDevice === false
  if (isRefused && !luck.is(0.05)) return void (device.inHand = null)
  // The answer does not come: most wait, some start all the same, and some give it up.
  if (pressed.state === 'asked' && !isImpatient && now - readyAt < 60_000) return
  if (now < readyAt) return
  device.inHand = null
  const attempt = day.students.get(studentId as never)?.attempts.find((one) => one.attemptId === attemptId)
  if (attempt?.status === 'interrupted' && luck.is(0.8)) return
  if (luck.is(0.01)) return void device.press(`${no}-release`, 'releaseAttempt', { attemptId, studentId })
  const student = day.students.get(studentId as never)
  const whom = luck.is(0.005) ? (luck.among(turn.students)?.studentId ?? studentId) : studentId
  const body = resultBody(turn, stationId, whom, attemptId, student?.normGroup.sex ?? 'M', official)
  device.press(`${no}-result`, 'recordResult', body)
  if (luck.is(0.03)) twinResult(turn, body)
  if (luck.is(0.01)) device.press(`${no}-dispute`, 'disputeReadBack', { attemptId, studentId: whom, observationId: body['observationId'] })
  if (luck.is(0.02)) {
    device.press(`${no}-prompt`, 'answerPrompt', {
      prompt: 'unusualValue',
      studentId: whom,
      attemptId,
      shown: 'Outside the usual range?',
      answer: 'kept',
      reason: null,
    })
  }
}

/** A second tablet has timed the same try, and now and then a different value, or much later. */
function twinResult({ world, device, luck, no }: Turn, body: Record<string, unknown>): void {
  const twin = world.device(device.name === 'reach-1' ? 'agility-1' : 'reach-1')
  const value = body['value'] as { amount: number } | null
  const other = value && luck.is(0.5) ? { ...value, amount: value.amount + luck.one(-10, 10) } : value
  const attemptId = luck.is(0.2) ? `${String(body['attemptId'])}-twin` : body['attemptId']
  const agoMs = luck.between(0, 2_000)
  world.timeline.after(luck.is(0.9) ? luck.between(200, 5_000) : luck.between(61_000, 200_000), () => {
    twin.press(`${no}-twin`, 'recordResult', { ...body, observationId: `o-${no}-twin`, attemptId, value: other }, { agoMs })
  })
}

/** What was on paper, or on a tablet in a bag, comes in behind the seal. */
function lateResult(turn: Turn, stationId: Station): void {
  const { device, luck, no, students } = turn
  if (!luck.is(0.05)) return
  const who = luck.among(students)
  if (!who) return
  if (luck.is(0.2)) {
    const mass = { amount: luck.between(5_500, 9_800), unit: 'hundredthsKg', resolution: 5, method: 'scale' }
    return void device.press(`${no}-late-weigh`, 'weigh', { studentId: who.studentId, mass, scaleId: 'scale-1', keptUnusual: false })
  }
  const last = luck.is(0.5) ? who.attempts.findLast((attempt) => attempt.stationId === stationId) : undefined
  const body = resultBody(turn, stationId, who.studentId, last?.attemptId ?? `${stationId}-${no}-late`, who.normGroup.sex, true)
  device.press(
    `${no}-late`,
    'recordResult',
    { ...body, fromPaper: { sheet: `P-${no}`, writerId: 'bo' } },
    { agoMs: luck.between(0, 7_200_000) },
  )
}

function resultBody({ luck, no, day }: Turn, stationId: Station, studentId: string, attemptId: string, sex: 'M' | 'W', official: boolean) {
  const outcome = luck.is(0.94)
    ? 'good'
    : stationId === 'benchPress'
      ? luck.one('noLift', 'noFaultRerun')
      : luck.one('foul', 'noFaultRerun')
  const load = day.students.get(studentId as never)?.attempts.find((attempt) => attempt.attemptId === attemptId)?.load
  const values: Record<Station, () => object | null> = {
    skinfold: () => null,
    agility: () => ({ amount: luck.between(1_600, 2_100), unit: 'hundredthsOfSecond', resolution: 1, method: 'hand' }),
    sitAndReach: () => ({ amount: luck.between(200, 430), unit: 'millimetres', resolution: 1, method: 'footLine260mm' }),
    benchPress: () => load ?? { amount: 400 + 25 * luck.between(0, 20), unit: 'tenthsKg', resolution: 25, method: 'loaded' },
  }
  const value = values[stationId]()
  const sites = stationId === 'skinfold' ? sitesOf('jacksonPollock3', sex) : []
  const folds = [...sites, ...(luck.is(0.95) ? sites : [])].map((site) => ({ site, halfMillimetres: luck.between(24, 27) }))
  return {
    observationId: `o-${no}`,
    attemptId,
    studentId,
    stationId,
    outcome,
    value: outcome === 'good' ? value : null,
    folds,
    fault: outcome === 'foul' ? 'markerDown' : null,
    equipmentIds: stationId === 'agility' ? ['watch-1'] : [],
    keptUnusual: luck.is(0.02),
    official,
    photoDigest: null,
    fromPaper: null,
  }
}
