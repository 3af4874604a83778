import type { MedicalView } from '@musterbook/day/views/medical'
import type { Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest'
import { openJourney, type Journey } from './academy.ts'
import { axe, type Device } from './browser.ts'
import { handsOn, nothingBroke, staffAndBrief, type Hands } from './station-hands.ts'

let journey: Journey
const open: Device[] = []
beforeAll(async () => {
  journey = await openJourney()
  await staffAndBrief(journey)
})
afterEach(async () => {
  for (const device of open.splice(0)) {
    nothingBroke(device.complaints)
    await device.context.close()
  }
})
afterAll(() => journey?.close())

async function screener(device: 'Medical 1' | 'Medical 2', person: 'petra' | 'dai'): Promise<Hands> {
  const made = await journey.openScreen(device, person, '/medical')
  open.push(made)
  const hands = handsOn(made.page)
  await hands.sees('Act now')
  return hands
}
async function openFile({ page }: Hands, bib: string): Promise<void> {
  await page.getByLabel('Bib or name').fill(bib)
  await page
    .getByRole('button', { name: /^Open / })
    .filter({ hasText: bib })
    .click()
  await page.getByText('Decide', { exact: true }).waitFor()
}
async function bench(): Promise<Hands> {
  const made = await journey.openScreen('Bench 1', 'colm', '/station?station=bench')
  open.push(made)
  const hands = handsOn(made.page)
  await hands.sees('At this station')
  return hands
}
const medical = async (bib: string) => {
  const petra = await journey.client('Medical 1', 'petra')
  const view = (await petra.get(`/api/days/${journey.open.dayId}/views/medical/all`)).body['body'] as MedicalView
  return view.students.find(({ studentId }) => studentId === journey.studentId(bib))
}
const clean = async (page: Page) => expect(await axe(page)).toEqual([])

test('two screeners at one moment: the stricter governs, both see it to settle, the bench sees no reason, and prying is shown', async () => {
  await journey.bring(['109'], 'bib')
  const petra = await screener('Medical 1', 'petra')
  const dai = await screener('Medical 2', 'dai')
  await openFile(petra, '109')
  await openFile(dai, '109')
  await dai.press('Cleared with limits')
  await dai.page.getByLabel('No maximal lift').check()
  await clean(dai.page)
  await petra.press(/^Cleared limits: none/)
  await petra.sees('#109 Oren Vask: Cleared')
  await dai.press('Record with these limits')

  for (const one of [petra, dai]) {
    await one.sees('Two screeners recorded different things. The stricter one governs until one of you settles it.')
    await clean(one.page)
  }
  await expect.poll(() => medical('109')).toMatchObject({ conflict: true, clearance: { status: 'limited' } })

  const colm = await bench()
  await journey.tell('Greeter', 'sanne', 'confirmWarmUp', { studentIds: [journey.studentId('109')] })
  await journey.tell('Greeter', 'sanne', 'joinQueue', { studentId: journey.studentId('109'), stationId: 'bench' })
  await journey.tell('Bench 2', 'colm', 'callUp', { studentId: journey.studentId('109'), stationId: 'bench' }, { expect: 403 })
  await colm.sees(/Not cleared for Bench press/)
  expect(await colm.page.content()).not.toMatch(/maximal|limit(s|ed)\b/i)

  const direct = await colm.page.goto('/medical')
  expect(direct?.status()).toBe(403)
  expect(await direct?.text()).toContain('Medical records are outside your role')
  await petra.press('Who asked')
  await petra.sees('Colm Sato asked for GET /medical: outside their role')
  await clean(petra.page)

  await petra.press('Cleared with limits')
  await petra.page.getByLabel('No maximal lift').check()
  await petra.press('Record with these limits')
  await dai.page.getByText('Two screeners recorded').waitFor({ state: 'detached' })
  await expect.poll(() => medical('109')).toMatchObject({ conflict: false, clearance: { status: 'limited' } })
})

test('answers are opened by a touch that is written down, and a private note is kept with them', async () => {
  await journey.bring(['118'], 'bib')
  const kiosk = await journey.client('Kiosk')
  const no = Object.fromEntries(['chest', 'faint', 'breath', 'ill', 'injury', 'medicine', 'other'].map((question) => [question, 'no']))
  const answered = await kiosk.post('/api/medical/answers', {
    dayId: journey.open.dayId,
    studentId: journey.studentId('118'),
    setId: 'HQ-1',
    answers: { ...no, heat: 'yes' },
  })
  expect(answered.status).toBe(201)
  const petra = await screener('Medical 1', 'petra')
  await openFile(petra, '118')
  expect(await petra.page.getByText('Have you ever been ill from heat?').count()).toBe(0)
  await petra.press('Open answers and notes')
  await petra.sees('Have you ever been ill from heat?')
  await petra.page.getByLabel('Private note').fill('Seen again at noon.')
  await petra.press('Keep the note')
  await petra.sees('Seen again at noon.')
  await clean(petra.page)
  await petra.press('Who asked')
  await petra.sees('Petra Holm opened a record')
})

test('a clearance withdrawn while the student is on the bench ends the lift there, in one touch, and gives no reason', async () => {
  await journey.bring(['110'])
  await journey.tell('Greeter', 'sanne', 'joinQueue', { studentId: journey.studentId('110'), stationId: 'bench' })
  const colm = await bench()
  const petra = await screener('Medical 1', 'petra')
  await openFile(petra, '110')
  await colm.press('Call up #110')
  await colm.sees(/^Suggested:/)
  await colm.press(/kg is on the bar: start/)
  const lift = colm.page.getByRole('button', { name: 'Good lift' })
  await lift.waitFor()

  petra.count()
  await petra.press(/^Withdraw the clearance/)
  expect(petra.touches).toBe(1)
  const pressed = Date.now()
  // What really happened may still be recorded; that it no longer counts is said at once, and why is not.
  const stop = colm.page.getByRole('alertdialog', { name: 'Stop #110 now' })
  await stop.waitFor()
  expect(Date.now() - pressed).toBeLessThan(2_000)
  expect(await axe(colm.page)).toEqual([])
  await colm.page.keyboard.press('Escape')
  await stop.getByRole('button', { name: 'I have heard it' }).click()
  await colm.sees('This try was interrupted.')
  await petra.sees('Clearance withdrawn: #110 Priya Sandhal')
  expect(await colm.page.content()).not.toMatch(/withdrawn/i)
  await journey.tell('Greeter', 'sanne', 'joinQueue', { studentId: journey.studentId('110'), stationId: 'bench' })
  await journey.tell('Bench 2', 'colm', 'callUp', { studentId: journey.studentId('110'), stationId: 'bench' }, { expect: 403 })
  await expect.poll(() => medical('110')).toMatchObject({ clearance: { status: 'withdrawn' } })
})

test('a referral: two touches on the floor stop and refer; the screener hears, arrives and answers; only then it goes on', async () => {
  await journey.bring(['115'])
  const floor = await journey.openScreen('Greeter', 'sanne', '/floor')
  open.push(floor)
  const greeter = handsOn(floor.page)
  await floor.page.getByLabel('Bib or name').fill('115')
  greeter.count()
  await greeter.press(/^Open Rafael Ondarra/)
  await greeter.press(/^Refer to medical/)
  expect(greeter.touches).toBe(2)
  await greeter.sees('Stopped and referred: #115 Rafael Ondarra')
  await clean(floor.page)
  const joined = { studentId: journey.studentId('115'), stationId: 'agility' }
  await journey.tell('Greeter', 'sanne', 'joinQueue', joined)
  await journey.tell('Agility', 'mira', 'callUp', joined, { expect: 423 })

  const petra = await screener('Medical 1', 'petra')
  await petra.sees(/needs? you now/)
  await openFile(petra, '115')
  await petra.sees(/^Referred to the screener at/)
  await clean(petra.page)
  await petra.press('I have heard of it')
  await petra.press('I am with the student')
  await petra.sees(/^Arrived at the student/)
  await petra.press('Outcome: cleared')
  await petra.sees('Referral answered: #115 Rafael Ondarra')
  await expect.poll(() => medical('115')).toMatchObject({ stop: null, referrals: [{ to: 'screener', outcome: 'cleared' }] })
  await journey.tell('Agility', 'mira', 'callUp', joined)
})
