import { chainFault } from '@musterbook/evidence/chain'
import type { Entry } from '@musterbook/ledger/ledger'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openJourney, type Journey } from './academy.ts'
import { axe, type Device } from './browser.ts'

const aDay = 24 * 60 * 60_000

/** Sunniva reached 33.5 cm; Ines looks her up at the office. */
let journey: Journey
let screen: Device
let page: Page
beforeAll(async () => {
  journey = await openJourney()
  await journey.bring(['108'])
  await reaches(335)
  screen = await journey.openScreen('Office desk', 'ines', '/records')
  page = screen.page
}, 120_000)
afterAll(() => journey?.close())

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
  await page.goto(`/sheets/records/${journey.studentId('108')}`)
  const said = await page.locator('main').innerText()
  for (const figure of ['33.5 cm', '50th', 'Asked to see the record', '2027-07-16']) expect(said).toContain(figure)
  expect(await axe(page)).toEqual([])
})

test('a retest is taken up at the office on the 20th, on a day of its own, and is offered no more', async () => {
  const granted = await journey.tell('Safety', 'tomas', 'grantRetest', {
    entitlementId: 'e-108',
    studentId: journey.studentId('108'),
    stationIds: ['run'],
    until: '2027-05-25',
    reason: null,
  })
  expect(granted.status).toBe(201)
  await page.close()
  await journey.clock.forward(9 * aDay)
  const office = await journey.openScreen('Office desk', 'ines', '/office')
  const { page: desk } = office
  await desk.locator('.tab', { hasText: 'Test day' }).click()
  await desk.getByLabel('Title').fill('Retests')
  await desk.getByText(/Sunniva Pell, L7-108: .*[Rr]un.*, granted 2027-05-11, until 2027-05-25/).click()
  await desk.getByText('A rehearsal: it never mixes').click()
  expect(await axe(desk)).toEqual([])
  await desk.getByRole('button', { name: 'Open the day', exact: true }).click()
  await desk.getByText('The day is open: Retests').waitFor()
  await desk.getByText('None is open.').waitFor()
  expect(office.complaints).toEqual([])
  await desk.close()
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
  const entries: Entry[] = []
  for await (const entry of journey.open.house.ledger.read(`day/${journey.open.dayId}`, 0)) entries.push(entry)
  expect(entries.length).toBeGreaterThan(5)
  expect(entries.flatMap((entry, at) => chainFault(entries[at - 1], entry) ?? [])).toEqual([])
})

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
