import type { FloorView } from '@musterbook/day/views/board'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openJourney, type Journey } from './academy.ts'
import { axe } from './browser.ts'
import { handsOn, nothingBroke } from './station-hands.ts'

let journey: Journey
beforeAll(async () => {
  journey = await openJourney()
  await journey.bring(['101', '102', '108'], 'bib')
})
afterAll(() => journey?.close())

const briefed = async (bib: string) =>
  (await journey.view<FloorView>('floor')).students.find(({ studentId }) => studentId === journey.studentId(bib))?.briefed

test('a class is briefed from the protocols, one test a page; who was present is recorded with the versions', async () => {
  const { page, complaints } = await journey.openScreen('Bench 1', 'colm', '/briefing', { width: 1920, height: 1080 })
  const hands = handsOn(page)
  await hands.sees('What is briefed')
  expect(await axe(page)).toEqual([])
  await page.getByLabel(/^Skinfolds, three sites/).uncheck()
  await page.getByLabel(/^Sit-and-reach/).uncheck()
  await page.getByLabel(/^Run, one and a half miles/).uncheck()
  await hands.press('Start the briefing')
  await hands.sees('How fast you rise, sprint and change direction.')
  await hands.sees('a marker knocked over')
  await hands.sees('2 official tries. The best one counts. At least 3 min of rest between tries.')
  await hands.sees('chest pain, faintness, confusion or an unusual shortness of breath')
  await hands.sees('You may stop at any time, without giving a reason.')
  expect(await axe(page)).toEqual([])
  const printed = await page.request.get((await page.getByRole('link', { name: 'Print this page' }).getAttribute('href')) ?? '')
  expect(await printed.text()).toContain('How fast you rise, sprint and change direction.')

  await page.keyboard.press('ArrowRight')
  await hands.sees('Bench press, one repetition')
  await hands.press('Who is present')
  await hands.sees('Everybody who is checked in is ticked.')
  expect(await axe(page)).toEqual([])
  await page.getByRole('checkbox', { name: /Adam Marsh/ }).uncheck()
  await hands.press('Record: 2 students briefed')
  await hands.sees('2 students briefed on Agility run, Bench press, one repetition')

  await expect.poll(() => briefed('101')).toEqual(['agility', 'bench'])
  await expect.poll(() => briefed('108')).toEqual(['agility', 'bench'])
  await expect.poll(() => briefed('102')).toEqual([])
  nothingBroke(complaints)
})

test.each([
  ['Español', 'es', 'ltr', 'Qué anula un intento'],
  ['العربية', 'ar', 'rtl', 'ما الذي يلغي المحاولة'],
])('in the language of the class: %s', async (name, lang, direction, says) => {
  const { page, complaints, context } = await journey.openScreen('Bench 1', 'colm', '/briefing')
  const hands = handsOn(page)
  await page.getByText(name, { exact: true }).click()
  await hands.press('Start the briefing')
  await hands.sees(says)
  const sheet = page.locator('article')
  expect([await sheet.getAttribute('lang'), await sheet.getAttribute('dir')]).toEqual([lang, direction])
  expect(await axe(page)).toEqual([])
  nothingBroke(complaints)
  await context.close()
})

test('a tablet whose person may not brief says so, and who may', async () => {
  const { page, complaints } = await journey.openScreen('Greeter', 'sanne', '/briefing')
  await handsOn(page).sees('Briefing is not among your tasks here')
  expect(await axe(page)).toEqual([])
  nothingBroke(complaints)
})
