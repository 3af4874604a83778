import type { SafetyView } from '@musterbook/day/views/safety'
import { demoDay, type DemoAcademy } from '@musterbook/office/demo-academy'
import { DeviceClient } from '../../ops/device-client.ts'
import { type Floor, isRecorded } from '../../ops/demo/floor.ts'

/** The runners of the wave, and those whose guns are fired while a hold is being raised. */
const wave = ['101', '102', '103', '104', '105', '106']
const racers = ['107', '108', '109']
const laps = 6
const lapMs = 110_000

/** The supervisor opens the day at the office desk, over HTTP like everything else. */
export async function openDay(
  address: string,
  academy: Pick<DemoAcademy, 'siteId' | 'classId' | 'staff' | 'desk'>,
  now: () => number,
  date = demoDay.date,
) {
  const desk = new DeviceClient(address, 'Office desk', now)
  desk.takeToken(academy.desk.token)
  await desk.signOn(academy.staff.ines.personId, academy.staff.ines.pin)
  const opened = await desk.post('/api/days', { date, title: demoDay.title, rehearsal: true, classIds: [academy.classId] })
  if (opened.status !== 201) throw new Error(`the day was not opened: ${JSON.stringify(opened.body)}`)
  return `${academy.siteId}-${date}`
}

/** From the first check to the line: nine come, the others are absent. */
export async function morning(floor: Floor): Promise<void> {
  const { students, staff } = floor.notes
  const comes = [...wave, ...racers]
  await floor.tell('Office desk', 'assignStaff', { personId: staff.wren.personId, stationId: 'run', acceptedBecause: null })
  await floor.tell('Track 1', 'checkEquipment', { equipmentId: 'T-2', passed: true, reference: null, read: null })
  await floor.tell('Office desk', 'briefClass', {
    briefingId: 'briefing-run',
    studentIds: comes.map((bib) => idOf(floor, bib)),
    stationIds: ['run'],
    language: 'en',
  })
  await Promise.all(
    comes.map(async (bib) => {
      const studentId = idOf(floor, bib)
      await floor.tell('Kiosk', 'checkIn', { studentId, secondIdentifier: 'birthDate' })
      await floor.tell('Greeter', 'bindBib', { studentId, bib })
      const clearance = { clearanceId: `clearance-${bib}`, studentId, status: 'cleared', limits: [], supersedes: null }
      await floor.tell('Medical 1', 'recordClearance', clearance)
    }),
  )
  await floor.tell('Greeter', 'confirmWarmUp', { studentIds: comes.map((bib) => idOf(floor, bib)) })
  for (const student of students) {
    if (!comes.includes(student.bib)) await floor.tell('Greeter', 'markAbsent', { studentId: student.studentId })
  }
  await floor.reading('Safety', 235)
}

/** A wave of six over six laps. `atLap` happens while that lap's crossings are told. */
export async function run(floor: Floor, atLap: Readonly<Record<number, () => Promise<unknown>>>): Promise<void> {
  await insists(() =>
    floor.tell('Track 1', 'startWave', {
      waveId: 'wave-1',
      stationId: 'run',
      official: true,
      runners: wave.map((bib) => ({ studentId: idOf(floor, bib), attemptId: `run-${bib}` })),
    }),
  )
  const gun = floor.pace.now()
  const beside: Promise<unknown>[] = []
  await Promise.all(
    wave.map(async (bib, index) => {
      for (let lap = 1; lap <= laps; lap++) {
        const at = gun + lap * lapMs + index * 2_000
        await floor.pace.until(at)
        // While the crossings before it are on their way.
        const event = index === 2 ? atLap[lap] : undefined
        if (event) beside.push(event())
        const line = lap === laps ? 'finish' : 'lap'
        const crossing = { observationId: `line-${bib}-${lap}`, waveId: 'wave-1', studentId: idOf(floor, bib), line }
        await floor.tell(index % 2 === 0 ? 'Track 1' : 'Track 2', 'recordCrossing', crossing, { at })
      }
    }),
  )
  await Promise.all(beside)
  for (const bib of wave) await floor.tell('Track 2', 'confirmCoolDown', { studentId: idOf(floor, bib), lookOver: 'nothingSeen' })
}

/** Three guns while a hold is raised, and one more after it is in the record. The last must be refused. */
export async function holdAgainstStarts(floor: Floor): Promise<{ refusedAfter: unknown }> {
  await floor.reading('Safety', 236)
  const gun = (bib: string, device: string) =>
    floor.tell(device, 'startWave', {
      waveId: `race-${bib}`,
      stationId: 'run',
      official: true,
      runners: [{ studentId: idOf(floor, bib), attemptId: `race-${bib}` }],
    })
  const [raised] = await Promise.all([
    floor.tell('Safety', 'raiseHold', { holdId: 'thunder', kind: 'other', zoneId: 'track' }),
    ...racers.map((bib, index) => gun(bib, index % 2 === 0 ? 'Track 1' : 'Track 2')),
  ])
  if (!isRecorded(raised!)) throw new Error('the hold was not raised')
  // Later than the band around both clocks, so that the order is certain.
  await floor.pace.sleep(2_000)
  const after = await floor.tell('Track 1', 'startWave', {
    waveId: 'too-late',
    stationId: 'run',
    official: true,
    runners: [{ studentId: idOf(floor, wave[0]!), attemptId: 'too-late' }],
  })
  return { refusedAfter: (after.body['refused'] as { rule?: string } | undefined)?.rule }
}

/** Whoever is out walks in, and the day is sealed; what stands open is accepted with a reason. */
export async function end(floor: Floor): Promise<{ version: number }> {
  for (const holdId of ['thunder', await heatHold(floor)])
    await floor.tell('Safety', 'disposeHold', { holdId, disposition: 'stopAndWalkIn' })
  for (const bib of racers) await floor.tell('Track 2', 'confirmCoolDown', { studentId: idOf(floor, bib), lookOver: 'nothingSeen' })
  const sealed = await floor.tell('Office desk', 'sealDay', { acceptOpenReviews: 'The starts under the hold count for nothing.' })
  if (!isRecorded(sealed)) throw new Error(`the day was not sealed: ${JSON.stringify(sealed.body)}`)
  return sealed.body['recorded'] as { version: number }
}

/** A reading over the policy's value: the weather calls for a hold, and the day puts it into force by itself. */
async function heatHold(floor: Floor): Promise<string> {
  await floor.reading('Safety', 325)
  for (let tries = 0; tries < 100; tries++) {
    const { holds } = await floor.view<SafetyView>('Safety', 'safety')
    const hold = holds.find(({ kind }) => kind === 'heat')
    if (hold) return hold.holdId
    await new Promise((resolve) => setTimeout(resolve, 100))
  }
  throw new Error('the reading crossed, and no hold stands in the day')
}

function idOf(floor: Floor, bib: string): string {
  return floor.notes.students.find((student) => student.bib === bib)!.studentId
}

/** A start is refused while it is not known whether every reading has arrived: a person tries again in a moment. */
async function insists(start: () => ReturnType<Floor['tell']>): Promise<void> {
  for (let tries = 1; ; tries++) {
    const heard = await start()
    if (isRecorded(heard)) return
    if (tries === 20) throw new Error(`the wave did not start: ${JSON.stringify(heard.body)}`)
    await new Promise((resolve) => setTimeout(resolve, 250))
  }
}
