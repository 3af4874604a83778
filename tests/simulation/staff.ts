import { shape, type Attempt, type Day, type Student } from '@musterbook/day/day'
import { outcomeDue } from '@musterbook/day/hold/hold'
import { words } from '@musterbook/day/controls'
import type { Device } from './device.ts'
import type { Luck } from './luck.ts'
import { countersignedBy, lockedAt } from './people.ts'
import type { DeviceName } from './plan.ts'
import { trackTurn } from './track.ts'
import { safetyTurn } from './weather-and-holds.ts'
import { supervisorTurn } from './supervisor.ts'
import { stationTurn } from './stations.ts'
import type { World } from './world.ts'

/** Somebody looks at a screen, and does the next thing that it seems to ask for; the impatient do another. */
export interface Turn {
  readonly world: World
  readonly device: Device
  readonly luck: Luck
  /** Names what comes of this turn, so that leaving out another turn changes nothing about it. */
  readonly no: number
  readonly now: number
  readonly day: Day
  readonly students: readonly Student[]
  readonly isClosing: boolean
  readonly isImpatient: boolean
}

export function takeTurn(world: World, device: Device, luck: Luck, no: number): void {
  const { day } = device
  if (!day.opened) return
  const { now } = world.timeline
  const isImpatient = luck.is(world.plan.impatience)
  const { students } = listOf(day)
  const turn: Turn = { world, device, luck, no, now, day, students, isClosing: now >= world.plan.closesAt, isImpatient }
  anybody(turn)
  turns[device.name](turn)
}

/** Many look at the same day. */
const listed = new WeakMap<Day['students'], { students: readonly Student[]; present: readonly Student[]; stopped: Student | undefined }>()

function listOf({ students: map }: Day) {
  const known = listed.get(map)
  if (known) return known
  const students = [...map.values()]
  const list = {
    students,
    present: students.filter((student) => shape(student).presence === 'present'),
    stopped: students.find((student) => student.stop),
  }
  listed.set(map, list)
  return list
}

const turns: Record<DeviceName, (turn: Turn) => void> = {
  'kiosk-1': kiosk,
  'greeter-1': greeter,
  'medical-1': medical,
  'medical-2': medical,
  'scale-1': scale,
  'agility-1': (turn) => stationTurn(turn, 'agility'),
  'reach-1': (turn) => stationTurn(turn, 'sitAndReach'),
  'bench-1': (turn) => stationTurn(turn, 'benchPress'),
  'bench-2': (turn) => stationTurn(turn, 'benchPress'),
  'track-1': trackTurn,
  'track-2': trackTurn,
  'safety-1': safetyTurn,
  'supervisor-1': supervisorTurn,
  'office-1': office,
}

/** What anyone on staff does from any screen. */
function anybody({ device, luck, no, day, world, isClosing }: Turn): void {
  for (const hold of day.holds.values()) {
    if (!hold.lifted && !hold.heard.has(device.by.deviceId) && luck.is(0.4))
      device.press(`${no}-heard-${hold.holdId}`, 'acknowledgeHold', { holdId: hold.holdId })
  }
  if (device.name === 'kiosk-1') {
    if (luck.is(0.003)) device.press(`${no}-call`, 'callStaff', { callId: `call-${no}` })
    return
  }
  const { present, stopped } = listOf(day)
  const somebody = luck.among(present)
  const isLocked = device.name === 'track-2' && luck.is(0.5)
  const by = isLocked ? lockedAt(device.name) : device.by
  if (somebody && luck.is(0.0008)) {
    const { studentId } = somebody
    device.press(
      `${no}-stop`,
      'stopStudent',
      { studentId, zoneId: luck.one('track', 'gym', null), reason: luck.one('unwell', 'hurt', 'notSaid') },
      { by },
    )
  }
  if (somebody && luck.is(0.0003))
    device.press(`${no}-refer`, 'refer', { referralId: `f-${no}`, studentId: somebody.studentId, to: 'screener' })
  if (somebody && luck.is(0.00008)) device.press(`${no}-withdraw`, 'withdraw', { studentId: somebody.studentId })
  if (!isClosing && luck.is(world.plan.weather === 'storm' ? 0.0004 : 0.00012)) {
    const kind = luck.one('lightning', 'air', 'cold', 'other', 'heat')
    device.press(`${no}-hold`, 'raiseHold', { holdId: `hold-${no}`, kind, zoneId: luck.one('track', 'track', null, 'gym') }, { by })
  }
  if (stopped && luck.is(0.002)) device.press(`${no}-restore`, 'restore', { studentId: stopped.studentId })
  if (stopped && luck.is(0.003)) {
    device.press(`${no}-named`, 'nameStopper', {
      studentId: stopped.studentId,
      stopCommandId: stopped.stop?.told.commandId,
      personId: 'bo',
    })
  }
}

/** Students come one by one; some come late, some never. */
function arrivesAt(world: World, index: number): number {
  const share = world.lasting(`arrival ${index}`)
  if (share < 0.02) return Infinity
  const late = share < 0.08 ? 60 : 0
  return world.plan.opensAt + (2 + index * 0.7 + late) * 60_000
}

function kiosk(turn: Turn): void {
  const { world, device, luck, no, now, students, isImpatient } = turn
  const come = students.filter((_, index) => now >= arrivesAt(world, index))
  const next =
    come.find((student) => ['expected', 'absent'].includes(shape(student).presence)) ?? (isImpatient ? luck.among(students) : undefined)
  if (!next) return
  device.press(`${no}-in`, 'checkIn', { studentId: next.studentId, secondIdentifier: luck.one('birthDate', 'photo') })
  if (luck.is(0.5)) device.press(`${no}-bib`, 'bindBib', { studentId: next.studentId, bib: next.studentId.slice(1) })
}

function greeter({ device, luck, no, now, students, isClosing, isImpatient }: Turn): void {
  const present = students.filter((student) => shape(student).presence === 'present')
  const bare = present.find((student) => student.bib === null)
  if (bare) {
    const bib = isImpatient ? '101' : bare.studentId.slice(1)
    device.press(`${no}-bib`, 'bindBib', { studentId: bare.studentId, bib })
  }
  const waiting = present.filter((student) => student.warmUpAt === null && now - (student.checkedInAt ?? now) > 6 * 60_000)
  const enough = waiting.length >= 4 || luck.is(0.4)
  if (waiting.length > 0 && enough)
    device.press(`${no}-warm`, 'confirmWarmUp', { studentIds: waiting.slice(0, 8).map((student) => student.studentId) })
  if (!isClosing) return
  const missing = students.find((student) => shape(student).presence === 'expected')
  if (missing) device.press(`${no}-absent`, 'markAbsent', { studentId: missing.studentId })
}

function medical({ device, luck, no, now, students }: Turn): void {
  const mine = students.filter(
    (student, index) => (index % 2 === (device.name === 'medical-1' ? 0 : 1) || luck.is(0.06)) && shape(student).presence === 'present',
  )
  const referred = students.find((student) => student.referrals.some((one) => !one.answered))
  const referral = referred?.referrals.find((one) => !one.answered)
  if (referred && referral && luck.is(0.5)) {
    const outcome = luck.is(0.8) ? 'cleared' : luck.one('limited', 'notToday')
    device.press(`${no}-answer`, 'answerReferral', { referralId: referral.referralId, studentId: referred.studentId, outcome })
  }
  const stopped = students.find((student) => student.stop && now - student.stop.since > 4 * 60_000)
  if (stopped && luck.is(0.4)) device.press(`${no}-restore`, 'restore', { studentId: stopped.studentId })
  else if (stopped && luck.is(0.3))
    device.press(`${no}-arrived`, 'answerStop', { studentId: stopped.studentId, answer: luck.one('acknowledged', 'arrived') })
  const hurt = students.find((student) => student.healthEvent)
  for (const student of [hurt, ...mine.filter((one) => one.clearance.status === 'pending').slice(0, 2)]) {
    if (student) decidesClearance(device, luck, `${no}-${student.studentId}`, student)
  }
  const again = luck.is(0.01) ? luck.among(mine) : undefined
  if (again) decidesClearance(device, luck, `${no}-again`, again)
  const current = luck.is(0.003) ? luck.among(mine)?.clearances.at(-1) : undefined
  const whose = current && mine.find((student) => student.clearances.includes(current))
  if (current && whose)
    device.press(`${no}-takes-back`, 'withdrawClearance', { clearanceId: current.clearanceId, studentId: whose.studentId })
  const withdrawn = mine.find((student) => student.clearance.status === 'withdrawn')
  if (withdrawn && luck.is(0.05)) decidesClearance(device, luck, `${no}-cleared-again`, withdrawn)
  if (luck.is(0.001) && mine[0]) device.press(`${no}-event`, 'reportHealthEvent', { studentId: mine[0].studentId, words: null })
}

function decidesClearance(device: Device, luck: Luck, name: string, student: Student): void {
  const status = luck.is(0.9) ? 'cleared' : luck.is(0.8) ? 'limited' : 'notToday'
  const limit = luck.one(
    { kind: 'noMaximalLift' },
    { kind: 'notAtStation', stationId: luck.one('run', 'agility', 'sitAndReach') },
    { kind: 'walkOnly' },
    { kind: 'withObserver' },
  )
  device.press(name, 'recordClearance', {
    clearanceId: `k-${device.name}-${name}`,
    studentId: student.studentId,
    status,
    limits: status === 'limited' ? [limit] : [],
    supersedes: student.clearances.at(-1)?.clearanceId ?? null,
  })
}

/** The scale stands beside the calipers, and one person has both. */
function scale(turn: Turn): void {
  const { world, device, luck, no, now, students, isImpatient } = turn
  if (!device.inHand) {
    // Some go past the scale at first.
    const isThere = ({ studentId, checkedInAt }: Student) =>
      now - (checkedInAt ?? now) > (world.lasting(`scale ${studentId}`) < 0.2 ? 25 : 0) * 60_000
    const next = students.find((student) => shape(student).presence === 'present' && student.weighIns.length === 0 && isThere(student))
    const again = isImpatient ? luck.among(students) : undefined
    const who = next ?? again
    if (who && (luck.is(0.6) || again)) {
      const mass = { amount: luck.between(5_500, 9_800), unit: 'hundredthsKg', resolution: 5, method: 'scale' }
      device.press(`${no}-weigh`, 'weigh', { studentId: who.studentId, mass, scaleId: 'scale-1', keptUnusual: luck.is(0.02) })
      return
    }
  }
  stationTurn(turn, 'skinfold')
}

function office({ device, luck, no, students, day, now, world }: Turn): void {
  if (!day.staff.has('run' as never))
    device.press(`${no}-staff`, 'assignStaff', {
      personId: 'wren',
      stationId: 'run',
      qualified: luck.is(0.7),
      acceptedBecause: luck.is(0.5) ? words : null,
    })
  if (now < world.plan.opensAt + 10 * 60_000 && luck.is(0.3)) {
    device.press(`${no}-brief`, 'briefClass', {
      briefingId: `b-${no}`,
      studentIds: students.map((student) => student.studentId),
      stationIds: ['agility', 'run'],
      language: 'en',
    })
  }
  if (luck.is(0.02)) {
    const equipmentId = luck.one('scale-1', 'watch-1', 'box-1')
    device.press(`${no}-check`, 'checkEquipment', { equipmentId, passed: luck.is(0.8), reference: null, read: null })
  }
  for (const [equipmentId, { blocked }] of day.equipment) {
    if (blocked && luck.is(0.5))
      device.press(`${no}-mended-${equipmentId}`, 'checkEquipment', { equipmentId, passed: true, reference: null, read: null })
  }
  const somebody = luck.among(students)
  if (somebody && luck.is(0.01)) {
    const normGroup = { ...somebody.normGroup, ageYears: luck.between(20, 39) }
    const by = luck.is(0.8) ? countersignedBy(device.by, 'supervisor-1') : device.by
    device.press(`${no}-norms`, 'changeNormGroup', { studentId: somebody.studentId, normGroup, reason: words }, { by })
  }
  if (luck.is(0.01)) {
    device.press(`${no}-walk-in`, 'walkIn', {
      studentId: `s${900 + (no % 90)}`,
      classId: 'lark-7',
      normGroup: { sex: 'M', ageYears: 25 },
      language: 'en',
    })
  }
}

export const isUnderWay = ({ status }: Attempt): boolean => status === 'underWay'

/** Of those under way when a hold came, whoever has no outcome yet on this screen. */
export const withoutOutcome = (day: Day) => [...day.holds.values()].filter((hold) => !hold.lifted && outcomeDue(day, hold).length > 0)
