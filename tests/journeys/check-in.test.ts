import type { FloorView } from '@musterbook/day/views/board'
import type { Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest'
import { openJourney, type Journey } from './academy.ts'
import { axe, type Device } from './browser.ts'
import { handsOn, nothingBroke } from './station-hands.ts'

let journey: Journey
const open: Device[] = []
beforeAll(async () => {
  journey = await openJourney()
})
afterEach(async () => {
  for (const device of open.splice(0)) {
    nothingBroke(device.complaints)
    await device.context.close()
  }
})
afterAll(() => journey?.close())

async function kiosk(size = { width: 1280, height: 800 }) {
  const made = await journey.openScreen('Kiosk', null, '/check-in', size)
  open.push(made)
  const hands = handsOn(made.page)
  await hands.sees('Hold your card under the scanner, or type the code on it.')
  return hands
}

/** A hand scanner types the code and ends it with Enter. */
async function scan(page: Page, code: string): Promise<void> {
  await page.keyboard.type(code)
  await page.keyboard.press('Enter')
}
const onFloor = async (bib: string) =>
  (await journey.view<FloorView>('floor')).students.find(({ studentId }) => studentId === journey.studentId(bib))
const clean = async (page: Page) => {
  expect(await axe(page)).toEqual([])
  expect(await page.evaluate(() => document.documentElement.scrollWidth <= document.documentElement.clientWidth)).toBe(true)
}

test('a scanned card, a birth date, and one touch for each of the rest: checked in with bib, band shown, answers with the screener', async () => {
  const hands = await kiosk()
  const { page } = hands
  await clean(page)
  hands.count()
  await scan(page, 'L7-105')
  await hands.sees('Day, month, year')
  await clean(page)
  await hands.type('11051997')
  await hands.press('Continue')

  await hands.sees('Kofi Brandt')
  await hands.sees('M30–39, table FX-1/run (invented)')
  await hands.sees('30 years old on the day of the test')
  await clean(page)
  await hands.press('That is me')
  await hands.sees('Only the medical screener reads your answers.')
  await clean(page)
  await hands.press('Have you been ill or had a fever in the last two weeks?')
  await clean(page)
  await hands.press('Send: 1 applies, the rest does not')
  await hands.sees('Take a bib from the greeter')
  await clean(page)
  await hands.type('105')
  await hands.press('This is my bib')
  await hands.sees('Go to the medical desk')
  await clean(page)
  expect(hands.touches).toBeLessThanOrEqual(17)

  await expect.poll(() => onFloor('105')).toMatchObject({ presence: 'present', bib: '105', late: false })
  const petra = await journey.client('Medical 1', 'petra')
  const opened = await petra.post('/api/medical/openings', { studentId: journey.studentId('105'), dayId: journey.open.dayId })
  expect(opened.body['answers']).toMatchObject([{ answers: { ill: 'yes', chest: 'no', heat: 'no' } }])

  await hands.press('Done')
  await hands.sees('Hold your card under the scanner')
  expect(await page.content()).not.toContain('Kofi')
})

test('by keyboard alone, and with nothing to tell the screener, in one touch for all eight questions', async () => {
  const hands = await kiosk()
  const { page } = hands
  await scan(page, 'L7-108')
  await hands.sees('Day, month, year')
  await page.keyboard.type('02032003')
  await page.keyboard.press('Enter')
  await hands.sees('W20–29, table FX-1/run (invented)')
  for (const [button, next] of [
    ['That is me', 'Only the medical screener reads your answers.'],
    ['None of these applies', 'Take a bib from the greeter'],
  ] as const) {
    await tabTo(page, button)
    await page.keyboard.press('Enter')
    await hands.sees(next)
  }
  await page.keyboard.type('108')
  await page.keyboard.press('Enter')
  await hands.sees('You are checked in')
  await expect.poll(() => onFloor('108')).toMatchObject({ presence: 'present', bib: '108' })
})

/** As somebody without a pointer: tab after tab, until the button has the focus. */
async function tabTo(page: Page, button: string): Promise<void> {
  for (let tabs = 0; tabs < 40; tabs++) {
    await page.keyboard.press('Tab')
    if ((await page.evaluate(() => document.activeElement?.textContent?.trim())) === button) return
  }
  throw new Error(`no tab leads to ${button}`)
}

test('a wrong birth date and a wrong code get the same one answer, and no name', async () => {
  const hands = await kiosk()
  const { page } = hands
  const answers: string[] = []
  for (const code of ['L7-102', 'L7-999']) {
    await scan(page, code)
    await hands.sees('Day, month, year')
    await hands.type('01011990')
    await hands.press('Continue')
    answers.push(await page.getByRole('alert').innerText())
    expect(await page.content()).not.toContain('Marsh')
    await clean(page)
    await hands.press('Start again')
    await hands.sees('Hold your card under the scanner')
  }
  expect(answers[0]).toMatch(/^Code and birth date do not belong together/)
  expect(answers[1]).toBe(answers[0])
})

test('a look-alike is told so; "this is not right" brings a person, whose coming shows at the kiosk', async () => {
  const hands = await kiosk()
  await scan(hands.page, 'L7-102')
  await hands.sees('Day, month, year')
  await hands.type('03022001')
  await hands.press('Continue')
  await hands.sees('Similar name today')
  await hands.press('This is not right')
  await hands.sees('Staff have been called. The coordinator can change the group')

  const floor = await journey.openScreen('Greeter', 'sanne', '/floor')
  open.push(floor)
  const greeter = handsOn(floor.page)
  await greeter.sees('Somebody wants a person')
  await greeter.sees(/^Kiosk, /)
  expect(await axe(floor.page)).toEqual([])
  await greeter.press('I am going')
  await floor.page.getByText('Somebody wants a person').waitFor({ state: 'detached' })
  await hands.press('That is me')
  await hands.sees('Somebody is on the way.')
})

test('after 20 s without a touch nothing of the student is left; who asks for more time has it', async () => {
  const [hands, patient] = [await kiosk(), await kiosk()]
  const { page } = hands
  for (const one of [patient, hands]) {
    await scan(one.page, 'L7-110')
    await one.sees('Day, month, year')
    await one.type('27042002')
    await one.press('Continue')
    await one.sees('Priya Sandhal')
    if (one === patient) await one.press('I need more time')
  }
  const touched = Date.now()
  await page.getByText('This page clears itself soon').waitFor({ timeout: 16_000 })
  await clean(page)
  await page.getByText('Priya Sandhal').waitFor({ state: 'detached', timeout: 12_000 })
  expect(Date.now() - touched).toBeGreaterThan(19_000)
  expect(Date.now() - touched).toBeLessThan(23_000)
  await hands.sees('Hold your card under the scanner')
  expect(await patient.page.getByText('Priya Sandhal').isVisible()).toBe(true)
})

test('seventy minutes late: checked in as late, told what is still open, and nothing starts before the warm-up', async () => {
  await journey.bring(['112'])
  await journey.tell('Greeter', 'sanne', 'joinQueue', { studentId: journey.studentId('112'), stationId: 'agility' })
  await journey.tell('Agility', 'mira', 'callUp', { studentId: journey.studentId('112'), stationId: 'agility' })
  // The first effort of the day has begun: from now on who comes is late.
  await journey.tell('Agility', 'mira', 'startAttempt', {
    attemptId: 'attempt-112',
    studentId: journey.studentId('112'),
    stationId: 'agility',
    official: true,
    load: null,
    equipmentIds: [],
    observerId: null,
    earlyBecause: 'the class is briefed at the station',
  })
  await journey.clock.forward(70 * 60_000)

  const hands = await kiosk()
  await scan(hands.page, 'L7-114')
  await hands.sees('Day, month, year')
  await hands.type('29052001')
  await hands.press('Continue')
  await hands.press('That is me')
  await hands.press('None of these applies')
  await hands.type('114')
  await hands.press('This is my bib')
  await hands.sees('You are checked in as late.')
  await hands.sees('Still open for you')
  for (const name of ['Skinfolds, three sites', 'Agility run', 'Sit-and-reach', 'Bench press, one repetition', 'Run, one and a half miles'])
    await hands.sees(name)
  await hands.sees('The warm-up is needed before the first of them that asks for it.')
  await clean(hands.page)
  const tilda = await onFloor('114')
  expect(tilda).toMatchObject({ late: true, warmUp: 'due' })
  expect(tilda?.stations.filter(({ left }) => left)).toHaveLength(5)

  const place = { studentId: journey.studentId('114'), stationId: 'agility' }
  await journey.tell('Medical 1', 'petra', 'recordClearance', {
    clearanceId: 'clearance-114',
    studentId: place.studentId,
    status: 'cleared',
    limits: [],
    supersedes: null,
  })
  await journey.tell('Greeter', 'sanne', 'joinQueue', place)
  await journey.tell('Agility', 'mira', 'callUp', place)
  const start = { attemptId: 'attempt-114', ...place, official: true, load: null, equipmentIds: [], observerId: null, earlyBecause: 'late' }
  const refused = await journey.tell('Agility', 'mira', 'startAttempt', start, { expect: 423 })
  expect(refused.body['refused']).toMatchObject({ rule: 'warmUpMissing', says: 'The warm-up is not confirmed.' })
})

test.each([
  { width: 640, height: 400, what: 'at 200 % text' },
  { width: 320, height: 640, what: 'at 400 % text' },
  { width: 800, height: 1280, what: 'on a tablet held upright' },
  { width: 1920, height: 1080, what: 'on a kiosk' },
])('nothing is cut off $what', async (size) => {
  const hands = await kiosk(size)
  await clean(hands.page)
  await scan(hands.page, 'L7-118')
  await hands.sees('Day, month, year')
  await clean(hands.page)
  await hands.type('01122002')
  await hands.press('Continue')
  await hands.sees('Mei Zhaoling')
  await clean(hands.page)
  // One hand, seated: single touches of keys that are large enough, every one reached by scrolling one way, and the page may be enlarged.
  const keys = await hands.page
    .locator('button:visible')
    .evaluateAll((all) => all.map((one) => one.getBoundingClientRect().toJSON() as DOMRect))
  expect(keys.filter(({ width, height, left, right }) => width < 44 || height < 44 || left < 0 || right > size.width)).toEqual([])
  expect(await hands.page.locator('meta[name=viewport]').getAttribute('content')).not.toMatch(/user-scalable|maximum-scale/)
})
