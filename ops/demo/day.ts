import type { StationView } from '@musterbook/day/views/station'
import type { InboxView } from '@musterbook/day/views/inbox'
import type { SafetyView } from '@musterbook/day/views/safety'
import type { DemoAcademy } from '@musterbook/office/demo-academy'
import { chance, type Chance } from './chance.ts'
import { isRecorded, type Floor } from './floor.ts'
import { Desk, type Pace } from './pace.ts'
import { runWaves, type Runner } from './waves.ts'

type DemoStudent = DemoAcademy['students'][number]

const minute = 60_000

/** Everything the day's people do, from the first reading to the seal. Times are the site's. */
export async function driveDay(floor: Floor, say: (line: string) => void, seed = 7): Promise<void> {
  const start = floor.pace.now()
  const luck = chance(seed)
  const desks = {
    kiosk: new Desk(1),
    medical: new Desk(2),
    scale: new Desk(1),
    skinfold: new Desk(2),
    agility: new Desk(1),
    reach: new Desk(1),
    bench: new Desk(2),
  }
  const runners: Runner[] = []
  const progress = { checkedIn: 0, stationsDone: 0, signedOff: 0 }
  let over = false

  await openUp(floor)
  const weather = readWeather(floor, start, () => over)
  const teller = (async () => {
    while (!over) {
      await floor.pace.sleep(10 * minute)
      await offerDevice(floor, say)
      say(
        `${clock(floor.pace)}  ${progress.checkedIn} checked in, ${progress.stationsDone} stations done, ${floor.told} acts told, ${floor.refused.length} refused`,
      )
    }
  })()

  const indoors = floor.notes.students.map(async (student, index) => {
    const late = student.bib === '114'
    await floor.pace.until(start + (late ? 70 : 20 + index * 0.5) * minute)
    await arrive(floor, student, desks, luck)
    progress.checkedIn += 1
    if (late) say(`${clock(floor.pace)}  ${student.givenName} ${student.familyName} arrives late and is checked in`)
    for (const station of luck.shuffled(stationsOf(student))) {
      await indoorStation(floor, student, station, desks, luck)
      progress.stationsDone += 1
    }
    await floor.tell('Track 1', 'joinQueue', { studentId: student.studentId, stationId: 'run' })
    runners.push({ student, lapMs: lapOf(student, luck) })
  })

  const waves = runWaves({
    floor,
    runners,
    luck,
    say,
    expect: floor.notes.students.length,
    indoors: Promise.all(indoors),
    onDone: () => (progress.stationsDone += 1),
  })
  await Promise.all(indoors)
  await mendSlips(floor, say)
  await waves
  await decideWhatWaits(floor, say)
  for (const { studentId } of floor.notes.students)
    if (isRecorded(await floor.tell('Office desk', 'signOffStudent', { studentId }))) progress.signedOff += 1
  say(`${clock(floor.pace)}  ${progress.signedOff} students signed off`)
  over = true
  await Promise.all([weather, teller])
  await sealDay(floor, say)
}

let offeredAt = -Infinity

/** A code for a device of the watcher's own. It lasts an hour of the site's time and serves once, so a new one is said well before. */
async function offerDevice(floor: Floor, say: (line: string) => void): Promise<void> {
  if (floor.pace.now() - offeredAt < 50 * minute) return
  offeredAt = floor.pace.now()
  const code = await floor.invite(`Visitor at ${clock(floor.pace)}`)
  if (code) say(`Take over on a device of your own, with any name above: ${floor.address}/supervisor?code=${code}`)
}

async function openUp(floor: Floor): Promise<void> {
  const { staff } = floor.notes
  const places = { skinfold: 'juno', agility: 'mira', reach: 'juno', bench: 'colm', run: 'wren' } as const
  for (const [stationId, who] of Object.entries(places))
    await floor.tell('Office desk', 'assignStaff', { personId: staff[who].personId, stationId, acceptedBecause: null })
  const passes: Record<string, string> = {
    'S-1': 'Scale and skinfolds',
    'C-1': 'Scale and skinfolds',
    'R-1': 'Reach',
    'B-1': 'Bench 1',
    'T-1': 'Agility',
    'T-2': 'Track 1',
  }
  for (const [equipmentId, device] of Object.entries(passes))
    await floor.tell(device, 'checkEquipment', { equipmentId, passed: true, reference: null, read: null })
  await floor.tell('Office desk', 'briefClass', {
    briefingId: 'briefing-lark-7',
    studentIds: floor.notes.students.filter((student) => student.bib !== '114').map((student) => student.studentId),
    stationIds: ['skinfold', 'agility', 'reach', 'bench', 'run'],
    language: 'en',
  })
}

/** WBGT over the morning, tenths of a degree: mild, then over the policy's value at the third wave, then cooler under cloud. */
async function readWeather(floor: Floor, start: number, isOver: () => boolean): Promise<void> {
  for (let at = start + 10 * minute; !isOver(); at += 12 * minute) {
    await floor.pace.until(at)
    const minutes = (at - start) / minute
    await floor.reading('Safety', 219 + Math.min(54, Math.round(minutes / 4)))
  }
}

async function arrive(floor: Floor, student: DemoStudent, desks: Record<'kiosk' | 'medical' | 'scale', Desk>, luck: Chance): Promise<void> {
  const { studentId, bib } = student
  await desks.kiosk.while(async () => {
    await floor.pace.sleep(luck.between(12, 24) * 1000)
    await floor.tell('Kiosk', 'checkIn', { studentId, secondIdentifier: 'birthDate' })
    await floor.tell('Greeter', 'bindBib', { studentId, bib })
  })
  await desks.medical.while(async () => {
    const device = Number(bib) % 2 === 0 ? 'Medical 1' : 'Medical 2'
    await floor.pace.sleep(luck.between(50, 110) * 1000)
    const limited = bib === '109'
    await floor.tell(device, 'recordClearance', {
      clearanceId: `clearance-${bib}`,
      studentId,
      status: limited ? 'limited' : 'cleared',
      limits: limited ? [{ kind: 'noMaximalLift' }] : [],
      supersedes: null,
    })
  })
  await desks.scale.while(async () => {
    await floor.pace.sleep(luck.between(15, 30) * 1000)
    const kilograms = student.normSex === 'M' ? luck.between(64, 96) : luck.between(52, 78)
    await floor.tell('Scale and skinfolds', 'weigh', {
      studentId,
      mass: { amount: Math.round(kilograms * 20) * 50, unit: 'grams', resolution: 50, method: 'scale' },
      scaleId: 'S-1',
      keptUnusual: false,
    })
  })
}

const stationsOf = (student: DemoStudent): Station[] => (student.bib === '109' ? ['agility', 'reach'] : ['agility', 'reach', 'bench'])
type Station = 'agility' | 'reach' | 'bench' | 'skinfold'

let warmedUp: Set<string> | undefined

async function indoorStation(
  floor: Floor,
  student: DemoStudent,
  station: Station,
  desks: Record<'agility' | 'reach' | 'bench' | 'skinfold', Desk>,
  luck: Chance,
): Promise<void> {
  warmedUp ??= new Set()
  if (!warmedUp.has(student.studentId)) {
    await skinfold(floor, student, desks.skinfold, luck)
    await floor.pace.sleep(5 * minute)
    await floor.tell('Greeter', 'confirmWarmUp', { studentIds: [student.studentId] })
    warmedUp.add(student.studentId)
  }
  const device = station === 'agility' ? 'Agility' : station === 'reach' ? 'Reach' : Number(student.bib) % 2 === 0 ? 'Bench 1' : 'Bench 2'
  await floor.tell(device, 'joinQueue', { studentId: student.studentId, stationId: station })
  if (station === 'bench') return bench(floor, student, device, desks.bench, luck)
  const tries = station === 'agility' ? 2 : 3
  for (let one = 1; one <= tries; one++) {
    await desks[station].while(() => oneTry(floor, student, device, station, one, luck))
    if (station === 'agility' && one < tries) await floor.pace.sleep(190_000)
  }
}

async function oneTry(floor: Floor, student: DemoStudent, device: string, stationId: Station, one: number, luck: Chance): Promise<void> {
  const { studentId, bib } = student
  const attemptId = `${stationId}-${bib}-${one}`
  if (one === 1) await floor.tell(device, 'callUp', { studentId, stationId })
  await floor.pace.sleep(luck.between(8, 15) * 1000)
  await start(floor, device, { attemptId, studentId, stationId, load: null })
  await floor.pace.sleep(luck.between(14, 24) * 1000)
  const isWoman = student.normSex === 'W'
  const value =
    stationId === 'agility'
      ? {
          amount: Math.round(luck.between(isWoman ? 1750 : 1600, isWoman ? 2150 : 2000)),
          unit: 'hundredthsOfSecond',
          resolution: 1,
          method: 'hand',
        }
      : { amount: Math.round(luck.between(200, 420) / 5) * 5, unit: 'millimetres', resolution: 5, method: 'footLine260mm' }
  const foul = luck.next() < 0.04
  await result(floor, device, {
    attemptId,
    studentId,
    stationId,
    outcome: foul ? 'foul' : 'good',
    value: foul ? null : value,
    fault: foul ? (stationId === 'agility' ? 'markerDown' : 'bounce') : null,
    equipmentIds: [stationId === 'agility' ? 'T-1' : 'R-1'],
  })
}

async function skinfold(floor: Floor, student: DemoStudent, desk: Desk, luck: Chance): Promise<void> {
  const { studentId, bib, normSex } = student
  const device = 'Scale and skinfolds'
  await floor.tell(device, 'joinQueue', { studentId, stationId: 'skinfold' })
  await desk.while(async () => {
    const attemptId = `skinfold-${bib}-1`
    await floor.tell(device, 'callUp', { studentId, stationId: 'skinfold' })
    await start(floor, device, { attemptId, studentId, stationId: 'skinfold', load: null })
    await floor.pace.sleep(luck.between(100, 150) * 1000)
    const sites = normSex === 'M' ? ['chest', 'abdomen', 'thigh'] : ['triceps', 'suprailiac', 'thigh']
    const first = sites.map((site) => ({ site, halfMillimetres: Math.round(luck.between(14, 44)) }))
    const again = first.map(({ site, halfMillimetres }) => ({ site, halfMillimetres: halfMillimetres + (luck.next() < 0.5 ? 0 : 1) }))
    await result(floor, device, {
      attemptId,
      studentId,
      stationId: 'skinfold',
      outcome: 'good',
      value: null,
      folds: [...first, ...again],
      equipmentIds: ['C-1'],
    })
  })
}

async function bench(floor: Floor, student: DemoStudent, device: string, desk: Desk, luck: Chance): Promise<void> {
  const { studentId, bib } = student
  const best = Math.round((student.normSex === 'M' ? luck.between(60, 110) : luck.between(30, 55)) / 2.5) * 25
  const loads = [best - 100, best - 50, best, best + 50]
  for (const [index, tenths] of loads.entries()) {
    const attemptId = `bench-${bib}-${index + 1}`
    await desk.while(async () => {
      if (index === 0) await floor.tell(device, 'callUp', { studentId, stationId: 'bench' })
      await start(floor, device, {
        attemptId,
        studentId,
        stationId: 'bench',
        load: { amount: Math.max(200, tenths), unit: 'tenthsKg', resolution: 25, method: 'barAndPlates' },
      })
      await floor.pace.sleep(luck.between(15, 30) * 1000)
      const good = tenths <= best
      const load = { amount: Math.max(200, tenths), unit: 'tenthsKg', resolution: 25, method: 'barAndPlates' }
      await result(floor, device, {
        attemptId,
        studentId,
        stationId: 'bench',
        outcome: good ? 'good' : 'noLift',
        value: good ? load : null,
        fault: good ? null : 'noLift',
        equipmentIds: ['B-1'],
      })
    })
    if (index < loads.length - 1) await floor.pace.sleep(125_000)
  }
}

async function start(
  floor: Floor,
  device: string,
  body: { attemptId: string; studentId: string; stationId: string; load: object | null },
): Promise<void> {
  await floor.tell(device, 'startAttempt', { ...body, official: true, equipmentIds: [], observerId: null, earlyBecause: null })
}

async function result(floor: Floor, device: string, body: Record<string, unknown>): Promise<void> {
  await floor.tell(device, 'recordResult', {
    observationId: `seen-${String(body['attemptId'])}`,
    folds: [],
    fault: null,
    keptUnusual: false,
    official: true,
    photoDigest: null,
    fromPaper: null,
    ...body,
  })
}

const lapOf = (student: DemoStudent, luck: Chance): number =>
  (student.normSex === 'M' ? luck.between(100, 140) : luck.between(112, 155)) * 1000

/** Juno saved a reach on the wrong Marsh: the try moves to the one who made it, and both histories show it. */
async function mendSlips(floor: Floor, say: (line: string) => void): Promise<void> {
  const ada = floor.notes.students.find((student) => student.bib === '101')
  const adam = floor.notes.students.find((student) => student.bib === '102')
  if (!ada || !adam) return
  const view = await floor.view<StationView>('Reach', 'station', 'reach')
  const attempt = view.students.find((student) => student.studentId === ada.studentId)?.attempts.at(-1)
  if (!attempt) return
  await floor.tell('Reach', 'correct', {
    correctionId: 'correction-1',
    studentId: ada.studentId,
    attemptId: attempt.attemptId,
    change: { kind: 'reassign', toStudentId: adam.studentId, newAttemptId: 'reach-102-moved' },
    reason: 'Saved on the wrong Marsh; both were on the mat together.',
    seenRevision: attempt.revision,
  })
  say(`${clock(floor.pace)}  a reach saved on Ada Marsh is moved to Adam Marsh, with its reason`)
}

async function decideWhatWaits(floor: Floor, say: (line: string) => void): Promise<void> {
  for (let round = 0; round < 5; round++) {
    const inbox = await floor.view<InboxView>('Office desk', 'inbox')
    const reviews = inbox.items.filter((item) => item.kind === 'review' && item.who === 'Supervisor')
    if (reviews.length === 0) return
    for (const item of reviews)
      await floor.tell('Office desk', 'rule', {
        reviewId: item.itemId,
        ruling: 'counts',
        reason: 'Looked at with the staff of the station; it stands.',
      })
    say(`${clock(floor.pace)}  ${reviews.length} reviews ruled on`)
  }
}

async function sealDay(floor: Floor, say: (line: string) => void): Promise<void> {
  const safety = await floor.view<SafetyView>('Safety', 'safety')
  for (const hold of safety.holds.filter((one) => !one.lifted && one.dispositionDue > 0))
    await floor.tell('Safety', 'disposeHold', { holdId: hold.holdId, disposition: 'stopAndWalkIn' })
  const heard = await floor.tell('Office desk', 'sealDay', { acceptOpenReviews: null })
  if (!isRecorded(heard)) throw new Error(`the day was not sealed: ${JSON.stringify(heard.body).slice(0, 400)}`)
  say(`${clock(floor.pace)}  the day is sealed`)
}

const clock = (pace: Pace): string => new Date(pace.now() + 2 * 60 * minute).toISOString().slice(11, 16)
