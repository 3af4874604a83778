import { afterAll, beforeAll, expect, test } from 'vitest'
import { openJourney, type Journey } from './academy.ts'
import type { Device } from './browser.ts'
import { eventually, isSound, safetyOf } from './run-hands.ts'
import { nothingBroke } from './station-hands.ts'

let journey: Journey
let safety: Device

beforeAll(async () => {
  journey = await openJourney()
  safety = await journey.openScreen('Safety', 'rashid', '/safety')
})
afterAll(async () => {
  nothingBroke(safety.complaints)
  await journey.close()
})

const tab = (says: string) => safety.page.locator('.tab').filter({ hasText: says }).first().tap()
const press = (name: string | RegExp) => safety.page.getByRole('button', { name }).first().tap()
const type = (label: string, value: string) => safety.page.getByRole('textbox', { name: label }).fill(value)

test('an estimate at or above the hold value raises the hold in the day, and says everywhere that it is one', async () => {
  await tab('Take a reading')
  await press(/^Estimate without an instrument/)
  await press('Work it out')
  await safety.page.getByText('Values are missing or cannot be').waitFor()
  await isSound(safety)
  await type('Air temperature', '34.5')
  await type('Relative humidity', '60')
  await type('Wind', '1.0')
  await type('Solar irradiance', '700')
  await type('Latitude', '47.12')
  await type('Longitude', '13.25')
  await type('Air pressure', '930')
  await press('Work it out')
  const worked = safety.page.locator('.received')
  await worked.getByText(/^WBGT \d\d\.\d °C, estimated/).waitFor()
  expect(await worked.innerText()).toContain('Heat balance, Liljegren 2008')
  expect(await worked.innerText()).toContain('within 1 °C')
  expect((await safetyOf(journey)).readings).toEqual([])
  await isSound(safety)
  await press('Tell it as an estimated reading')
  await safety.page.getByText('It calls for a hold').waitFor()
  await eventually(async () => (await safetyOf(journey)).holds.some(({ kind, lifted }) => kind === 'heat' && !lifted))
  const [reading] = (await safetyOf(journey)).readings
  expect(reading).toMatchObject({ method: 'estimate', usable: true, instrumentId: 'estimated, Liljegren 2008' })
  expect(reading!.wbgtTenths).toBeGreaterThanOrEqual(280)
  const notice = safety.page.getByRole('alertdialog')
  if (await notice.isVisible()) await notice.getByRole('button', { name: 'I have heard it' }).tap()
  expect(await safety.page.locator('.newest').innerText()).toContain('WBGT estimated')
  await isSound(safety)
})

test('a later estimate below it is refused for the lift', async () => {
  await journey.clock.forward(16 * 60_000)
  await tab('Take a reading')
  await press('Take another')
  await press(/^Estimate without an instrument/)
  expect(await safety.page.getByRole('textbox', { name: 'Latitude' }).inputValue()).toBe('47.12')
  await safety.page.locator('.tab').filter({ hasText: 'Simplified: for screening only' }).tap()
  await type('Air temperature', '22')
  await type('Relative humidity', '40')
  await press('Work it out')
  await safety.page.getByText('For screening only: too little to plan a day by').waitFor()
  await press('Tell it as an estimated reading')
  await eventually(async () => (await safetyOf(journey)).readings.length === 2)
  expect(await safety.page.locator('.newest').innerText()).not.toContain('Counts for outdoor starts')
  await tab('Holds')
  const offered = safety.page.locator('.offered').first()
  expect(await offered.innerText()).toContain('estimated, simplified: for screening only')
  await offered.getByText('An estimate cannot lift a hold').waitFor()
  await press('Propose to lift')
  await safety.page.locator('[role=alert], [role=status]').filter({ hasText: 'An estimate cannot lift a hold' }).first().waitFor()
  const [hold] = (await safetyOf(journey)).holds
  expect(hold).toMatchObject({ lifted: null, proposal: null })
  await isSound(safety)
})

test('the list of the day’s readings says that they are estimated, and by which method', async () => {
  await tab('The day')
  const list = safety.page.getByRole('table', { name: 'Readings of the day' })
  const says = await list.innerText()
  expect(says).toContain('estimated, Liljegren 2008')
  expect(says).toContain('estimated, simplified: for screening only')
  expect(says.match(/°C estimated/g)).toHaveLength(2)
  await isSound(safety)
})
