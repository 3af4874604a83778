import { shape } from '@musterbook/day/day'
import { words } from '@musterbook/day/controls'
import type { Device, Pressed } from './device.ts'
import { looksReady } from './stations.ts'
import type { Turn } from './staff.ts'

/** People who run, as they really run: whatever is pressed on any screen. */
export interface Runner {
  readonly studentId: string
  readonly attemptId: string
  /** When each lap is over, since the gun. */
  readonly laps: readonly number[]
  readonly stopsAfter: number
  tapped: number
  twinTapped: number
  isOff: boolean
}

export interface RunningWave {
  readonly waveId: string
  readonly pressed: Pressed
  readonly gunAt: number
  readonly runners: readonly Runner[]
}

const minute = 60_000

export function trackTurn(turn: Turn): void {
  const { world, device } = turn
  const wave = world.waves.at(-1)
  if (wave && isRunning(turn, wave)) watches(turn, wave)
  else if (device.name === 'track-1') between(turn)
  if (device.name === 'track-1') afterTheRun(turn)
}

/** Has the gun been fired, and is somebody still out there? */
function isRunning({ now, luck }: Turn, { pressed, gunAt, runners }: RunningWave): boolean {
  if (runners.every((runner) => runner.isOff)) return false
  const isFired = pressed.state === 'granted' || (pressed.state === 'asked' && now - gunAt > 15_000 && luck.is(0.3))
  if (isFired) return true
  if (pressed.state === 'refused' || now - gunAt > minute) for (const runner of runners) runner.isOff = true
  return pressed.state === 'asked' && now - gunAt <= minute
}

/** Taps as they come by. A tap may be missed, or doubled; the twin tablet sees some of them too. */
function watches(turn: Turn, { waveId, gunAt, runners, pressed }: RunningWave): void {
  const { device, luck, no, now, day } = turn
  if (pressed.state === 'asked') return
  const isTwin = device.name === 'track-2'
  for (const runner of runners) {
    if (runner.isOff) continue
    const { studentId, attemptId } = runner
    const attempt = day.students.get(studentId as never)?.attempts.find((one) => one.attemptId === attemptId)
    if (!isTwin && attempt?.status === 'interrupted' && luck.is(0.5)) runner.isOff = true
    const done = isTwin ? runner.twinTapped : runner.tapped
    const at = gunAt + (runner.laps[done] ?? Infinity)
    if (at > now) continue
    if (isTwin) runner.twinTapped++
    else runner.tapped++
    const lap = done + 1
    const isLast = lap === runner.laps.length
    const body = { observationId: `t-${device.name}-${no}-${studentId}`, waveId, studentId, line: isLast ? 'finish' : 'lap' }
    const isSeen = isTwin ? luck.is(0.25) : luck.is(0.98)
    if (isSeen) device.press(`${no}-tap-${studentId}`, 'recordCrossing', body, { agoMs: now - at })
    if (isSeen && luck.is(0.02)) {
      const agoMs = Math.max(0, now - at - luck.between(200, 3_000))
      device.press(`${no}-double-${studentId}`, 'recordCrossing', { ...body, observationId: `${body.observationId}-2` }, { agoMs })
    }
    if (!isTwin && lap === runner.stopsAfter) givesUp(device, `${no}-${studentId}`, runner)
    if (!isTwin && isLast) runner.isOff = true
  }
}

function givesUp(device: Device, name: string, runner: Runner): void {
  runner.isOff = true
  const { studentId, attemptId } = runner
  device.press(`${name}-ends`, 'recordResult', {
    observationId: `o-${name}`,
    attemptId,
    studentId,
    stationId: 'run',
    outcome: 'didNotFinish',
    value: null,
    folds: [],
    fault: 'stoppedByChoice',
    equipmentIds: [],
    keptUnusual: false,
    official: true,
    photoDigest: null,
    fromPaper: null,
  })
}

/** Nobody runs: the next wave, once enough are there, or whoever is left when it grows late. */
function between(turn: Turn): void {
  const { world, device, luck, no, now, day, students, isClosing, isImpatient } = turn
  const { opensAt, closesAt } = world.plan
  if (isClosing || now < opensAt + 15 * minute || now > closesAt - 8 * minute) return
  const last = world.waves.at(-1)
  if (last && now - last.gunAt < 25_000) return
  const ready = students.filter((student) => looksReady(student, 'run', now))
  const enough = Math.min(10, Math.max(3, Math.floor(students.length / 4)))
  const isLate = now > closesAt - 30 * minute
  if (ready.length === 0 || (ready.length < enough && !isLate && !isImpatient)) return
  const isHeld = [...day.holds.values()].some((hold) => !hold.lifted && hold.zoneId !== 'gym')
  if (isHeld && !isImpatient && !luck.is(0.05)) return
  if (device.contact === 'deaf' && luck.is(0.1)) {
    device.press(`${no}-radio`, 'confirmByRadio', { stationId: 'run', waveId: `wave-${no}`, spokeTo: 'rashid', words })
  }
  const among = isImpatient ? [...ready.slice(0, 13), ...students.slice(0, 1)] : ready.slice(0, 14)
  const runners = among.map((student, index) => {
    const lapMs = luck.between(95_000, 150_000)
    const laps = Array.from({ length: 6 }, (_, lap) => Math.round(lapMs * (lap + 1) + luck.between(-4_000, 4_000)))
    return {
      studentId: student.studentId,
      attemptId: `run-${no}-${index}`,
      laps,
      stopsAfter: luck.is(0.06) ? 3 : 0,
      tapped: 0,
      twinTapped: 0,
      isOff: false,
    }
  })
  const waveId = `wave-${no}`
  const named = runners.map(({ studentId, attemptId }) => ({ studentId, attemptId }))
  const pressed = device.press(`${no}-gun`, 'startWave', { waveId, stationId: 'run', runners: named, official: luck.is(0.97) })
  if (pressed) world.waves.push({ waveId, pressed, gunAt: now, runners })
}

/** The lap back, the look-over, and what was missed on the way. */
function afterTheRun({ world, device, luck, no, now, students, day }: Turn): void {
  const due = students.filter((student) => shape(student).coolDown === 'due')
  const next = due.find((student) => now - (student.attempts.findLast((one) => one.stationId === 'run')?.endedAt ?? 0) > 2 * minute)
  if (next && luck.is(0.5)) {
    device.press(`${no}-cool`, 'confirmCoolDown', { studentId: next.studentId, lookOver: luck.is(0.97) ? 'nothingSeen' : 'referred' })
  }
  if (due.length > 0 && luck.is(0.02)) {
    const present = due.filter(() => luck.is(0.9)).map((student) => student.studentId)
    device.press(`${no}-count`, 'takeHeadcount', { zoneId: 'track', present })
  }
  if (!luck.is(0.2)) return
  for (const student of students) {
    const attempt = student.attempts.find((one) => one.finish && one.finish.laps < 6 && one.waveId)
    if (!attempt) continue
    const runner = world.waves.flatMap((wave) => wave.runners).find((one) => one.attemptId === attempt.attemptId)
    if (!runner) continue
    const known = attempt.taps.filter((tap) => tap.ignored === null).map((tap) => tap.elapsedMs)
    const missed = runner.laps.find((lap) => known.every((elapsed) => Math.abs(elapsed - lap) > 40_000))
    if (missed && day.waves.has(attempt.waveId as never)) {
      const { studentId } = student
      device.press(`${no}-infers`, 'inferLap', {
        observationId: `i-${no}`,
        waveId: attempt.waveId,
        studentId,
        elapsedMs: missed,
        witnessId: 'bo',
      })
      return
    }
  }
}
