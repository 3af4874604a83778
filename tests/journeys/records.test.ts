import { chainFault } from '@musterbook/evidence/chain'
import type { Entry } from '@musterbook/ledger/ledger'
import type { RecordView } from '@musterbook/day/views/record'
import type { DemoStaff } from '@musterbook/office/demo-academy'
import type { ActName } from '@musterbook/vocabulary/act-table'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openJourney, type Journey } from './academy.ts'
import { axe, type Device } from './browser.ts'
import { fireGun, lapKey, milliseconds, reads, safetyOf, until } from './run-hands.ts'
import { handsOn, nothingBroke } from './station-hands.ts'

/** The server stands in another time zone than the site: ages, dates and days stay the site's. */
const zoneBefore = process.env.TZ
process.env.TZ = 'Pacific/Apia'
const aDay = 24 * 60 * 60_000
const onThe20th = 'skarnvale-2027-05-20'

/** Sunniva reached 33.5 cm and ran 13:06, Kofi 12:05; Tendai's run was stopped by a hold. Ines looks them up at the office. */
let journey: Journey
let screen: Device
let page: Page
beforeAll(async () => {
  journey = await openJourney()
  await journey.bring(['108', '105'])
  await reaches(335)
  const first = journey.open.dayId
  // Its code is good for this day alone.
  await journey.client('Bench 1', 'colm')
  await agility(first, 1861, 'hand')
  await run(first, { '108': sunnivaInMay, '105': ['2:00', '4:01', '6:02', '8:03', '10:04', '12:05'] })
  await stoppedByAHold(first)
  screen = await journey.openScreen('Office desk', 'ines', '/records')
  page = screen.page
}, 120_000)
afterAll(async () => {
  if (zoneBefore === undefined) delete process.env.TZ
  else process.env.TZ = zoneBefore
  await journey?.close()
})
const sunnivaInMay = ['2:10', '4:21', '6:32', '8:43', '10:54', '13:05.4']

/** As `journey.tell`, on any of the site's days. */
async function tellOn(dayId: string, device: string, person: DemoStaff | null, act: ActName, body: object, at = journey.clock.now()) {
  const from = await journey.client(device, person)
  const heard = await from.tell(dayId, act, body, { envelope: from.stamp(at) })
  expect(heard.status, `${act} ${JSON.stringify(heard.body)}`).toBe(201)
}
/** From the door to the warm-up, as `journey.bring` does it on the first day. */
async function bringOn(dayId: string, bib: string) {
  const studentId = journey.studentId(bib)
  const mass = { amount: 70_000, unit: 'grams', resolution: 50, method: 'scale' }
  const clearance = { clearanceId: `clearance-${dayId}-${bib}`, studentId, status: 'cleared', limits: [], supersedes: null }
  await tellOn(dayId, 'Kiosk', null, 'checkIn', { studentId, secondIdentifier: 'birthDate' })
  await tellOn(dayId, 'Greeter', 'sanne', 'bindBib', { studentId, bib })
  await tellOn(dayId, 'Medical 1', 'petra', 'recordClearance', clearance)
  await tellOn(dayId, 'Medical 1', 'petra', 'weigh', { studentId, mass, scaleId: 'S-1', keptUnusual: false })
  await tellOn(dayId, 'Greeter', 'sanne', 'confirmWarmUp', { studentIds: [studentId] })
}
async function agility(dayId: string, amount: number, timing: 'hand' | 'electronic') {
  const attempt = {
    attemptId: `agility-${dayId}`,
    studentId: journey.studentId('108'),
    stationId: 'agility',
    official: true,
    equipmentIds: [],
  }
  const value = { amount, unit: 'hundredthsOfSecond', resolution: 1, method: timing }
  const seen = {
    observationId: `seen-agility-${dayId}`,
    outcome: 'good',
    value,
    folds: [],
    fault: null,
    keptUnusual: false,
    photoDigest: null,
  }
  await tellOn(dayId, 'Agility', 'mira', 'startAttempt', { ...attempt, load: null, observerId: null, earlyBecause: null })
  await tellOn(dayId, 'Agility', 'mira', 'recordResult', { ...attempt, ...seen, fromPaper: null })
  await journey.clock.forward(10 * 60_000)
}
/** A wave with its crossings, the last of each runner at the finish. */
async function run(dayId: string, taps: Record<string, readonly string[]>) {
  await reads(journey, 210)
  const runners = Object.keys(taps).map((bib) => ({ studentId: journey.studentId(bib), attemptId: `run-${dayId}-${bib}` }))
  for (const { studentId } of runners) await tellOn(dayId, 'Track 2', 'bo', 'joinQueue', { studentId, stationId: 'run' })
  const [gunAt, waveId] = [journey.clock.now(), `wave-${dayId}`]
  await tellOn(dayId, 'Track 1', 'wren', 'startWave', { waveId, stationId: 'run', official: true, runners }, gunAt)
  const crossings = Object.entries(taps).flatMap(([bib, times]) =>
    times.map((time, at) => ({ bib, at: gunAt + milliseconds(time), line: at === times.length - 1 ? 'finish' : 'lap' })),
  )
  for (const { bib, at, line } of crossings.sort((one, other) => one.at - other.at)) {
    await until(journey, at)
    const crossing = { observationId: `tap-${dayId}-${bib}-${at - gunAt}`, waveId, studentId: journey.studentId(bib), line }
    await tellOn(dayId, 'Track 1', 'wren', 'recordCrossing', crossing, at)
  }
}

/** #112 is on the second lap when a reading calls for a hold; later a cooler one lifts it. */
async function stoppedByAHold(dayId: string) {
  await journey.bring(['112'])
  const waveId = 'wave-stopped'
  const runners = [{ studentId: journey.studentId('112'), attemptId: 'run-stopped' }]
  await tellOn(dayId, 'Track 2', 'bo', 'joinQueue', { studentId: journey.studentId('112'), stationId: 'run' })
  await tellOn(dayId, 'Track 1', 'wren', 'startWave', { waveId, stationId: 'run', official: true, runners })
  await journey.clock.forward(121_000)
  const crossing = { observationId: 'tap-stopped', waveId, studentId: journey.studentId('112'), line: 'lap' }
  await tellOn(dayId, 'Track 1', 'wren', 'recordCrossing', crossing)
  await reads(journey, 283)
  const [hold] = (await safetyOf(journey)).holds
  await tellOn(dayId, 'Safety', 'rashid', 'disposeHold', { holdId: hold!.holdId, disposition: 'stopAndWalkIn' })
  await journey.clock.forward(16 * 60_000)
  const readingId = await reads(journey, 210)
  await tellOn(dayId, 'Safety', 'rashid', 'proposeLift', { holdId: hold!.holdId, readingId, reason: null })
  await tellOn(dayId, 'Office desk', 'tomas', 'confirmLift', { holdId: hold!.holdId })
}

async function reaches(amount: number) {
  const studentId = journey.studentId('108')
  const attempt = { attemptId: 'reach-1', studentId, stationId: 'reach', official: true }
  await journey.tell('Reach', 'juno', 'startAttempt', { ...attempt, load: null, equipmentIds: [], observerId: null, earlyBecause: null })
  const value = { amount, unit: 'millimetres', resolution: 5, method: 'footLine260mm' }
  const seen = {
    observationId: 'seen-reach-1',
    outcome: 'good',
    value,
    folds: [],
    fault: null,
    keptUnusual: false,
    photoDigest: null,
    fromPaper: null,
  }
  await journey.tell('Reach', 'juno', 'recordResult', { ...attempt, ...seen, equipmentIds: [] })
  // A second pair of eyes reads the same.
  await journey.tell('Bench 2', 'mira', 'recordResult', { ...attempt, ...seen, observationId: 'seen-again-1', equipmentIds: [] })
}

test('nobody is listed unasked; a code opens its student’s file, with results as they stand', async () => {
  await page.getByRole('heading', { level: 1, name: 'Records' }).waitFor()
  expect(await page.locator('.record-find li').count()).toBe(0)
  expect(await axe(page)).toEqual([])
  const { code, name } = await found()
  await page.getByRole('searchbox', { name: 'Name, code or class' }).fill(code)
  await page.getByRole('button', { name: 'Find', exact: true }).click()
  await page.getByRole('button', { name }).click()
  await page.getByRole('heading', { level: 2, name }).waitFor()
  await page.getByText('33.5 cm').first().waitFor()
  expect(await axe(page)).toEqual([])
})

test('born 1997-05-11, Kofi is 30 on his birthday: 12:05 stands at the 60th of M30–39, also where the server is in another zone', async () => {
  expect(new Date(Date.UTC(2027, 4, 11, 12)).getDate()).toBe(12)
  const file = await journey.openScreen('Safety', 'tomas', '/records')
  await file.page.getByRole('searchbox', { name: 'Name, code or class' }).fill('L7-105')
  await file.page.getByRole('button', { name: 'Find', exact: true }).click()
  await file.page.getByRole('button', { name: 'Kofi Brandt' }).click()
  const row = file.page.getByRole('row').filter({ hasText: '12:05' }).first()
  expect(await row.innerText()).toMatch(/60th[\s\S]*M30–39/)
  await file.page.close()
})

test('a request is recorded with the date that the rules give, and stands in the file; what is written stays when the site is not reached', async () => {
  await page.getByRole('button', { name: 'Record a request' }).click()
  const dialog = page.getByRole('dialog')
  await dialog.getByLabel('Received on').fill('2027-06-01')
  // 45 days to let somebody inspect: 34 CFR 99.10(b).
  await expect.poll(() => dialog.getByLabel('To be answered by').inputValue()).toBe('2027-07-16')
  await dialog.getByLabel('The question, as it was put').fill('I would like to see my record.')
  expect(await axe(page)).toEqual([])
  await page.route('**/api/office/**', (route) => route.abort())
  await dialog.getByRole('button', { name: 'Record it' }).click()
  await dialog.getByRole('alert').waitFor()
  expect(await dialog.getByLabel('The question, as it was put').inputValue()).toBe('I would like to see my record.')
  await page.unroute('**/api/office/**')
  await dialog.getByRole('button', { name: 'Record it' }).click()
  await page.getByText('2027-07-16').first().waitFor()
})

test('what is due and classes in counts stand; the record prints what the screen says', async () => {
  for (const [part, says] of [
    ['Due to end', 'Nothing is due.'],
    ['Classes in counts', 'Too few students to be shown.'],
  ] as const) {
    await page.locator('.tab', { hasText: part }).click()
    await page.getByText(says).waitFor()
    expect([part, await axe(page)]).toEqual([part, []])
  }
  // Two people read one student's reach: of so few students not even how many is shown.
  const agreement = page.getByRole('table', { name: 'How far two raters agree' }).getByRole('row')
  await agreement.filter({ hasText: 'Juno Haas' }).filter({ hasText: 'Mira Delacroix' }).waitFor()
  expect(await agreement.last().getByRole('cell').allInnerTexts()).toEqual([expect.stringContaining('Juno Haas'), '*', '*', '*', '*'])
  expect(screen.complaints.filter((one) => !one.includes('net::ERR_FAILED'))).toEqual([])
  await page.goto(`/sheets/days/${journey.open.dayId}/cohorts/${journey.open.academy.classId}`)
  // Two raters stand in the order of their ids, which are made anew each time.
  const printed = page.getByRole('row').filter({ hasText: 'Juno Haas' }).filter({ hasText: 'Mira Delacroix' })
  await printed.waitFor()
  expect(await printed.getByRole('cell').allInnerTexts()).toEqual([expect.stringContaining('Juno Haas'), '*', '*', '*'])
  await page.goto(`/sheets/records/${journey.studentId('108')}`)
  const said = await page.locator('main').innerText()
  for (const figure of ['33.5 cm', '50th', 'Asked to see the record', '2027-07-16']) expect(said).toContain(figure)
  expect(await axe(page)).toEqual([])
})

test('a retest is taken up at the office on the 20th, on a day of its own, and is offered no more', async () => {
  const { entitlements } = await journey.view<RecordView>('record', journey.studentId('112'))
  expect(entitlements).toMatchObject([{ stationIds: ['run'], until: '2027-05-25', because: 'hold' }])
  await page.close()
  await journey.clock.forward(9 * aDay)
  rulesOfMay = await otherRunRules()
  const office = await journey.openScreen('Office desk', 'ines', '/office')
  const { page: desk } = office
  await desk.locator('.tab', { hasText: 'Test day' }).click()
  await desk.getByLabel('Title').fill('Retests')
  // It was granted at a rehearsal, and is offered to no other day.
  await desk.getByText('None is open.').waitFor()
  await desk.getByText('A rehearsal: it never mixes').click()
  await desk.getByText(/Tendai Mokoro, L7-112: .*[Rr]un.*, granted 2027-05-11, until 2027-05-25/).click()
  expect(await axe(desk)).toEqual([])
  await desk.getByLabel('Date', { exact: true }).fill('2027-05-26')
  await desk.getByRole('button', { name: 'Open the day', exact: true }).click()
  await desk.getByText('The retest of the student with code L7-112 ended 2027-05-25.').waitFor()
  await desk.getByLabel('Date', { exact: true }).fill('2027-05-20')
  await desk.getByRole('button', { name: 'Open the day', exact: true }).click()
  await desk.getByText('The day is open: Retests').waitFor()
  await desk.getByText('None is open.').waitFor()
  nothingBroke(office.complaints)
  await desk.close()
})

/** Since the 11th the site has another version of the run and of its norms: a minute less is asked in each row. */
async function otherRunRules() {
  const { run, norms } = await runRulesInForce()
  const harder = (table: RunTable) => ({
    ...table,
    edition: `${table.edition}, a minute less`,
    groups: table.groups.map((group) => ({ ...group, points: group.points.map((point) => ({ ...point, value: point.value - 60 })) })),
  })
  await adopt('protocol', run.id, { ...run.content, version: 2 })
  await adopt('norms', norms.id, { tables: norms.content.tables.map((table) => (table.test === 'run' ? harder(table) : table)) })
  return async () => {
    await adopt('protocol', run.id, run.content)
    await adopt('norms', norms.id, norms.content)
  }
}
let rulesOfMay = async () => {}
interface RunTable {
  test: string
  edition: string
  groups: { points: { value: number }[] }[]
}
async function runRulesInForce() {
  const heard = (await (await journey.client('Office desk', 'ines')).get('/api/office/rules')).body
  const rules = heard as unknown as { kind: string; id: string; state: string; content: { tables: RunTable[] } }[]
  const inForce = (kind: string, id: string) => rules.find((one) => one.kind === kind && one.id === id && one.state === 'inForce')!
  return { run: inForce('protocol', 'run'), norms: inForce('norms', 'FX-1') }
}
async function adopt(kind: string, id: string, content: object) {
  const proposed = await (
    await journey.client('Office desk', 'ines')
  ).post('/api/office/adoption-proposals', { body: { kind, id, content } })
  const adopted = await (
    await journey.client('Safety', 'tomas')
  ).post('/api/office/adoptions', { body: { proposalId: proposed.body['proposalId'] } })
  expect([proposed.status, adopted.status], JSON.stringify([proposed.body, adopted.body])).toEqual([201, 201])
}

test('on the 20th the bench is refused: the entitlement covers the run only; the run is timed there, and scored as on the 11th', async () => {
  await bringOn(onThe20th, '112')
  const bench = handsOn((await journey.openScreen('Bench 1', 'colm', `/station?day=${onThe20th}`)).page)
  await bench.choose('Tendai')
  await bench.sees(/The entitlement covers .*[Rr]un.* only/)
  await bench.page.close()

  await reads(journey, 210)
  await tellOn(onThe20th, 'Track 2', 'bo', 'joinQueue', { studentId: journey.studentId('112'), stationId: 'run' })
  const track = (await journey.openScreen('Track 1', 'wren', `/run?day=${onThe20th}`)).page
  await fireGun(track, 1)
  const gunAt = journey.clock.now()
  for (const [at, time] of ['2:01', '4:02', '6:03', '8:04', '10:05', '12:08'].entries()) {
    await until(journey, gunAt + milliseconds(time))
    await lapKey(track, '112').tap()
    await track
      .locator('.runner', { hasText: '112' })
      .getByText(`${at + 1} of 6 laps`)
      .waitFor()
  }
  await track
    .locator('.runner', { hasText: '112' })
    .getByText(/finish 12:\d\d/)
    .waitFor()
  await track.close()
  // The test put the site's clock forward under the tablet: its two clocks disagree, as they should, and the supervisor rules.
  await expect.poll(() => reviewsOn(onThe20th, '112')).toMatchObject([{ because: 'clocksDisagree' }])
  const [asked] = await reviewsOn(onThe20th, '112')
  await tellOn(onThe20th, 'Safety', 'tomas', 'rule', { reviewId: asked!.reviewId, ruling: 'counts', reason: 'Times agree.' })

  const file = (await journey.openScreen('Office desk', 'ines', '/records')).page
  await file.getByRole('searchbox', { name: 'Name, code or class' }).fill('L7-112')
  await file.getByRole('button', { name: 'Find', exact: true }).click()
  await file.getByRole('button', { name: 'Tendai Mokoro' }).click()
  const runOn = async (day: string) =>
    (await file.getByRole('table', { name: day }).getByRole('row').filter({ hasText: 'Run,' }).innerText()).replaceAll(/\s+/g, ' ')
  // Under the rules now in force 12:08 would stand at the 30th.
  expect(await runOn('2027-05-20')).toMatch(/ 12:\d\d 50th, M20–29 .* run 1; FX-1(?!.*a minute less)/)
  expect(await runOn('2027-05-11')).toMatch(/ none interrupted by safety run 1/)
  expect(await axe(file)).toEqual([])
  await file.close()
  await rulesOfMay()
})

async function reviewsOn(dayId: string, bib: string): Promise<RecordView['reviews']> {
  const { body } = await (await journey.client('Office desk', 'ines')).get(`/api/days/${dayId}/views/record/${journey.studentId(bib)}`)
  return (body['body'] as RecordView).reviews.filter(({ ruling }) => ruling === null)
}

test('on the 26th the run is refused: the entitlement ended on the 25th', async () => {
  // The office opens no day for an entitlement that has ended: this one stands in the ledger as an older server may have left it.
  const [opened] = await entriesOf(onThe20th)
  const onThe26th = 'skarnvale-2027-05-26'
  const events = opened!.events.map((event) => {
    const { facts } = event as unknown as { facts?: object }
    return facts ? { ...event, facts: { ...facts, dayId: onThe26th, date: '2027-05-26' } } : event
  })
  const meta = { ...opened!.meta, commandId: 'opened-by-hand' }
  await journey.open.house.ledger.append(`day/${onThe26th}`, 0, { meta, recordedAt: journey.clock.now(), events })
  await bringOn(onThe26th, '112')
  await tellOn(onThe26th, 'Track 2', 'bo', 'joinQueue', { studentId: journey.studentId('112'), stationId: 'run' })
  const track = (await journey.openScreen('Track 1', 'wren', `/run?day=${onThe26th}`)).page
  const notReady = track.locator('.run-not-ready')
  await notReady.waitFor()
  expect(await notReady.innerText()).toMatch(/112[\s\S]*The entitlement ended 2027-05-25/)
  await track.close()
})

test('October: 13:06 → 12:31 is 35 s faster, 60th → 70th; agility by gates after a hand time is not compared', async () => {
  await journey.clock.forward(145 * aDay)
  const [ines, tomas] = [await journey.client('Office desk', 'ines'), 'tomas' as const]
  const rules = (await ines.get('/api/office/rules')).body as unknown as { kind: string; id: string; content: object }[]
  const byHand = rules.find(({ kind, id }) => kind === 'protocol' && id === 'agility')!.content
  const body = { kind: 'protocol', id: 'agility', content: { ...byHand, version: 2, timing: 'electronic' } }
  const proposed = await ines.post('/api/office/adoption-proposals', { body })
  const adopted = await (
    await journey.client('Safety', tomas)
  ).post('/api/office/adoptions', { body: { proposalId: proposed.body['proposalId'] } })
  expect([proposed.status, adopted.status]).toEqual([201, 201])
  const { academy } = journey.open
  const october = { dayId: 'october', date: '2027-10-12', title: 'Later test', rehearsal: true, classIds: [academy.classId] }
  const opened = await (await journey.client('Office desk', 'ines')).post('/api/days', october)
  expect(opened.status, JSON.stringify(opened.body)).toBe(201)
  await bringOn('october', '108')
  await run('october', { '108': ['2:05', '4:10', '6:15', '8:20', '10:25', '12:31'] })
  await tellOn('october', 'Track 1', 'wren', 'confirmCoolDown', { studentId: journey.studentId('108'), lookOver: 'nothingSeen' })
  await journey.clock.forward(10 * 60_000)
  await agility('october', 1790, 'electronic')

  const file = await journey.openScreen('Office desk', 'ines', '/records')
  await file.page.getByRole('searchbox', { name: 'Name, code or class' }).fill('L7-108')
  await file.page.getByRole('button', { name: 'Find', exact: true }).click()
  await file.page.getByRole('button', { name: 'Sunniva Pell' }).click()
  const progress = file.page.getByRole('table', { name: /2027-05-11.*2027-10-12/ }).getByRole('row')
  const says = async (test: string) => (await progress.filter({ hasText: test }).innerText()).replaceAll(/\s+/g, ' ')
  await progress.first().waitFor()
  expect(await says('Run,')).toMatch(/13:06 60th.* 12:31 70th.* 35 s faster.*same method and course.*place in the day differs: 3, then 1/)
  const gates = await says('Agility')
  expect(gates).toMatch(/18\.7 s.* 17\.9 s.*Not directly comparable; different timing method/)
  expect(gates).not.toMatch(/better|worse|faster|slower/)
  expect(await axe(file.page)).toEqual([])
  await file.page.close()
})

test('asked by one and confirmed by another, a record is erased: the name is gone from the screens, and the chain verifies', async () => {
  await journey.clock.forward(11 * 366 * aDay)
  const desk = (await journey.openScreen('Office desk', 'ines', '/records')).page
  expect(await showing(desk, 'Kofi')).toEqual(['/supervisor', '/floor', '/office'])
  await desk.goto('/records')
  const ask = async (name: string) => {
    await desk.getByRole('button', { name: `Ask for erasure: ${name}` }).click()
    await desk.getByRole('dialog').getByRole('button', { name: 'Ask for erasure', exact: true }).click()
  }
  await desk.locator('.tab', { hasText: 'Due to end' }).click()
  await ask('Sunniva Pell')
  await desk.getByText('A case holds this record').waitFor()
  await ask('Kofi Brandt')
  await desk.getByText('waits for another person').waitFor()
  expect(await desk.getByRole('button', { name: 'Confirm and erase: Kofi Brandt' }).count()).toBe(0)

  const second = (await journey.openScreen('Safety', 'tomas', '/records')).page
  await second.locator('.tab', { hasText: 'Due to end' }).click()
  await second.getByRole('button', { name: 'Confirm and erase: Kofi Brandt' }).click()
  const sure = second.getByRole('dialog')
  expect(await sure.innerText()).toContain('This cannot be taken back.')
  await sure.getByRole('button', { name: 'Confirm and erase', exact: true }).click()
  await second.getByText(/confirmed by/).waitFor()

  expect(await showing(desk, 'Kofi')).toEqual([])
  expect(await (await desk.request.get('/api/records/students?find=Kofi')).json()).toEqual([])
  const entries = await entriesOf(journey.open.dayId)
  expect(entries.length).toBeGreaterThan(5)
  expect(entries.flatMap((entry, at) => chainFault(entries[at - 1], entry) ?? [])).toEqual([])
})

async function entriesOf(dayId: string): Promise<Entry[]> {
  const entries: Entry[] = []
  for await (const entry of journey.open.house.ledger.read(`day/${dayId}`, 0)) entries.push(entry)
  return entries
}

/** On which screens of the first day a name stands. */
async function showing(page: Page, name: string): Promise<string[]> {
  const found: string[] = []
  for (const path of ['/supervisor', '/floor', '/office', '/records']) {
    await page.goto(`${path}?day=${journey.open.dayId}`)
    await page.getByRole('heading', { level: 1 }).waitFor()
    const says = path === '/records' ? 'Nobody is listed' : /Ada/
    await page.getByText(says).and(page.locator(':visible')).first().waitFor()
    if ((await page.content()).includes(name)) found.push(path)
  }
  return found
}

async function found(): Promise<{ code: string; name: string }> {
  const [one] = (await (await page.request.get('/api/records/students?find=Sunniva')).json()) as { code: string; name: string }[]
  return one!
}
