import type { SafetyView } from '@musterbook/day/views/safety'
import type { DemoAcademy } from '@musterbook/office/demo-academy'
import type { Chance } from './chance.ts'
import { isRecorded, type Floor } from './floor.ts'

const minute = 60_000
const laps = 6

export interface Runner {
  student: DemoAcademy['students'][number]
  lapMs: number
}

interface Track {
  floor: Floor
  runners: Runner[]
  luck: Chance
  say: (line: string) => void
  /** How many will run in all. */
  expect: number
  indoors: Promise<unknown>
  onDone: () => void
}

/** Runs go in waves of up to fourteen. Twelve are out when the heat hold comes; one is unwell; one crossing is missed. */
export async function runWaves(track: Track): Promise<void> {
  const { floor, runners, say } = track
  let done = 0
  let wave = 0
  let indoorsOver = false
  void track.indoors.then(() => (indoorsOver = true))
  while (done < track.expect) {
    const size = wave === 1 ? 12 : 14
    while (runners.length < size && !(indoorsOver && runners.length > 0)) await floor.pace.sleep(30_000)
    wave += 1
    const out = runners.splice(0, Math.min(size, runners.length))
    const holds = wave === 2
    done += await runWave(track, wave, out, holds)
    say(`wave ${wave}: ${out.length} runners are off the track${holds ? ' after the hold' : ''}`)
  }
}

async function runWave(track: Track, wave: number, out: Runner[], holds: boolean): Promise<number> {
  const { floor, say } = track
  const waveId = `wave-${wave}-${floor.pace.now()}`
  await freshReading(floor)
  const started = await floor.tell('Track 1', 'startWave', {
    waveId,
    stationId: 'run',
    official: true,
    runners: out.map(({ student }) => ({ studentId: student.studentId, attemptId: `run-${student.bib}-${wave}` })),
  })
  if (!isRecorded(started)) {
    // Somebody may not start: leave that one out, and say why not.
    const refused = started.body['refused'] as { studentId?: string; rule?: string } | undefined
    say(`wave ${wave} refused: ${refused?.rule}`)
    const rest = out.filter(({ student }) => student.studentId !== refused?.studentId)
    if (rest.length === out.length) {
      await floor.pace.sleep(minute)
      return runWave(track, wave, out, holds)
    }
    track.runners.push(...out.filter((one) => !rest.includes(one)))
    await floor.pace.sleep(minute)
    return runWave(track, wave, rest, holds)
  }
  const gun = floor.pace.now()
  const stopAt = holds ? gun + 3.6 * 125_000 : null
  const finished = await Promise.all(out.map((runner) => runOne(track, waveId, runner, gun, stopAt)))
  if (stopAt !== null) await holdTheTrack(track, out, stopAt)
  await coolDown(track, out)
  const again = holds ? out : []
  track.runners.push(...again)
  for (const { student } of again) await floor.tell('Track 1', 'joinQueue', { studentId: student.studentId, stationId: 'run' })
  return holds ? 0 : finished.length
}

/** One runner's laps as the track sees them. */
async function runOne(
  { floor, luck, say, onDone }: Track,
  waveId: string,
  { student, lapMs }: Runner,
  gun: number,
  stopAt: number | null,
): Promise<void> {
  let at = gun
  for (let lap = 1; lap <= laps; lap++) {
    at += lapMs * luck.between(0.97, 1.05)
    if (stopAt !== null && at > stopAt) return
    await floor.pace.until(at)
    if (student.bib === '115' && lap === 5 && stopAt === null) return unwell(floor, student, say)
    // Nobody tapped this crossing: it shows, and a person puts it in with a witness.
    if (student.bib === '113' && lap === 3) continue
    await floor.tell(
      Number(student.bib) % 2 === 0 ? 'Track 1' : 'Track 2',
      'recordCrossing',
      {
        observationId: `line-${waveId}-${student.bib}-${lap}`,
        waveId,
        studentId: student.studentId,
        line: lap === laps ? 'finish' : 'lap',
      },
      { at },
    )
  }
  if (student.bib === '113') {
    await floor.tell('Track 1', 'inferLap', {
      observationId: `inferred-${waveId}-113`,
      waveId,
      studentId: student.studentId,
      elapsedMs: Math.round((at - gun) / 2),
      witnessId: floor.notes.staff.bo.personId,
    })
    say('a crossing of #113 was missed: one lap is inferred, with a witness')
  }
  onDone()
}

async function unwell(floor: Floor, student: Runner['student'], say: (line: string) => void): Promise<void> {
  await floor.tell('Track 2', 'stopStudent', { studentId: student.studentId, zoneId: 'track', reason: 'unwell' })
  say(`#${student.bib} is unwell on lap five: stopped, referred, looked at`)
  await floor.tell('Safety', 'answerStop', { studentId: student.studentId, answer: 'acknowledged' })
  await floor.tell('Track 2', 'refer', { referralId: `referral-${student.bib}`, studentId: student.studentId, to: 'screener' })
  await floor.pace.sleep(4 * minute)
  await floor.tell('Medical 1', 'answerStop', { studentId: student.studentId, answer: 'arrived' })
  await floor.tell('Medical 1', 'answerReferral', {
    referralId: `referral-${student.bib}`,
    studentId: student.studentId,
    outcome: 'notToday',
  })
}

/** The reading crosses, the hold stands by itself, the twelve walk in, and two people lift it on a later, settled, cooler reading. */
async function holdTheTrack({ floor, say }: Track, out: Runner[], stopAt: number): Promise<void> {
  await floor.pace.until(stopAt)
  await floor.reading('Safety', 283)
  let safety = await floor.view<SafetyView>('Safety', 'safety')
  for (let tries = 0; tries < 40 && !safety.holds.some((hold) => !hold.lifted); tries++) {
    await new Promise((resolve) => setTimeout(resolve, 50))
    safety = await floor.view<SafetyView>('Safety', 'safety')
  }
  const hold = safety.holds.find((one) => !one.lifted)
  if (!hold) throw new Error('the reading crossed and no hold stands')
  say(`hold over the track with ${out.length} runners out`)
  for (const device of ['Track 1', 'Track 2', 'Safety', 'Agility', 'Reach', 'Bench 1'])
    await floor.tell(device, 'acknowledgeHold', { holdId: hold.holdId })
  await floor.tell('Safety', 'disposeHold', { holdId: hold.holdId, disposition: 'stopAndWalkIn' })
  await floor.tell('Safety', 'takeHeadcount', { zoneId: 'track', present: out.map(({ student }) => student.studentId) })
  await floor.tell('Track 1', 'startWave', {
    waveId: `wave-refused-${floor.pace.now()}`,
    stationId: 'run',
    official: true,
    runners: out.slice(0, 1).map(({ student }) => ({ studentId: student.studentId, attemptId: `run-${student.bib}-no` })),
  })
  await floor.pace.sleep(16 * minute)
  const readingId = await floor.reading('Safety', 271)
  await floor.pace.sleep(20_000)
  for (let tries = 0; tries < 40; tries++) {
    if (isRecorded(await floor.tell('Safety', 'proposeLift', { holdId: hold.holdId, readingId, reason: null }))) break
    await new Promise((resolve) => setTimeout(resolve, 50))
  }
  await floor.tell('Office desk', 'confirmLift', { holdId: hold.holdId })
  say('the hold is lifted by two people on a settled reading of 27.1')
}

async function coolDown({ floor }: Track, out: Runner[]): Promise<void> {
  await floor.pace.sleep(5 * minute)
  for (const { student } of out) {
    const unwell = student.bib === '115'
    await floor.tell('Track 2', 'confirmCoolDown', { studentId: student.studentId, lookOver: unwell ? 'referred' : 'nothingSeen' })
  }
}

/** A wave that would start on a reading near its age asks for a new one first. */
async function freshReading(floor: Floor): Promise<void> {
  const { newest } = await floor.view<SafetyView>('Safety', 'safety')
  if (newest && newest.validUntil - floor.pace.now() > 12 * minute) return
  await floor.reading('Safety', newest?.wbgtTenths ?? 240)
  await floor.pace.sleep(5_000)
}
