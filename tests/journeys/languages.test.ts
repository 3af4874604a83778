import type { FloorView } from '@musterbook/day/views/board'
import type { Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest'
import { ar } from '../../kiosk/src/words/ar.ts'
import { en as everywhere } from '../../kiosk/src/words/en.ts'
import { floorScreens } from '../../kiosk/src/words/floor-screens.ts'
import { office as officeWords } from '../../kiosk/src/words/en/office.ts'
import { es } from '../../kiosk/src/words/es.ts'
import { neverSay } from '../../kiosk/src/words/never-say.ts'
import { openJourney, tablet, type Journey } from './academy.ts'
import { axe, type Device } from './browser.ts'
import { lapKey, reads, runnerOf, toTheTrack } from './run-hands.ts'
import { nothingBroke } from './station-hands.ts'

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

/** As a screen of the floor speaks it. */
const en = { ...everywhere, ...floorScreens }
type Tongue = 'es' | 'ar'
const direction = { es: 'ltr', ar: 'rtl' } as const
const name = { es: 'Español', ar: 'العربية' } as const

const screen = async (...where: Parameters<Journey['openScreen']>): Promise<Page> => {
  const made = await journey.openScreen(...where)
  open.push(made)
  return made.page
}
const sees = (page: Page, says: string) => page.getByText(says).first().waitFor({ timeout: 15_000 })
const press = (page: Page, says: string) => page.getByRole('button', { name: says, exact: true }).first().click()

/** Speaks it, from its own side, within the screen, claims nothing, and axe finds nothing. */
async function stands(page: Page, tongue: Tongue): Promise<void> {
  expect(await page.evaluate(() => [document.documentElement.lang, document.documentElement.dir])).toEqual([tongue, direction[tongue]])
  expect(await axe(page)).toEqual([])
  expect(await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)).toBe(0)
  const said = await page.locator('main').innerText()
  expect(neverSay[tongue].filter((claim) => claim.test(said))).toEqual([])
}

/** Chooses the language with the key in the frame: for whoever is signed on there, now and the next time. */
async function speaks(page: Page, tongue: Tongue): Promise<void> {
  await page.getByRole('button', { name: en.language.label }).click()
  const choice = page.locator('dialog[open]').getByRole('radio', { name: name[tongue] })
  await choice.click({ force: true })
  await page.locator(`html[lang=${tongue}]`).waitFor()
  await page.keyboard.press('Escape')
}

/** As somebody without a pointer: tab after tab, until what has the focus says so. */
async function tabTo(page: Page, says: string): Promise<void> {
  for (let tabs = 0; tabs < 40; tabs++) {
    await page.keyboard.press('Tab')
    if ((await page.evaluate(() => document.activeElement?.textContent?.trim())) === says) return
  }
  throw new Error(`no tab leads to ${says}`)
}

const onFloor = async (bib: string) =>
  (await journey.view<FloorView>('floor')).students.find(({ studentId }) => studentId === journey.studentId(bib))

test('a student whose roster says Arabic checks in by keyboard alone, from the right, at 200 % text; whoever comes next finds English', async () => {
  const page = await screen('Kiosk', null, '/check-in', { width: 640, height: 400 })
  await sees(page, en.checkIn.codeHelp)
  await page.keyboard.type('L7-104')
  await page.keyboard.press('Enter')
  await sees(page, en.checkIn.birthDate)
  await page.keyboard.type('30112000')
  await page.keyboard.press('Enter')
  // The roster knows the language as soon as it knows who stands here.
  await sees(page, ar.checkIn.thatIsMe)
  await stands(page, 'ar')
  for (const [button, next] of [
    [ar.checkIn.thatIsMe, ar.checkIn.noneApplies],
    [ar.checkIn.noneApplies, ar.checkIn.bibHelp],
  ] as const) {
    await tabTo(page, button)
    await page.keyboard.press('Enter')
    await sees(page, next)
    await stands(page, 'ar')
  }
  // What is typed on a pad stands in its own order, and speech is told of it.
  expect(await page.locator('.pad-keys').evaluate((keys) => getComputedStyle(keys).direction)).toBe('ltr')
  await page.keyboard.type('104')
  await page.keyboard.press('Enter')
  await sees(page, ar.checkIn.doneTitle)
  await stands(page, 'ar')
  const heard = await page.locator('main').ariaSnapshot()
  expect(heard).toContain(`heading "${ar.checkIn.doneTitle}" [level=2]`)
  expect(heard).toContain(`button "${ar.checkIn.done}"`)
  await expect.poll(() => onFloor('104')).toMatchObject({ presence: 'present', bib: '104' })

  await tabTo(page, ar.checkIn.done)
  await page.keyboard.press('Enter')
  await sees(page, en.checkIn.codeHelp)
})

test('a language chosen at the kiosk says that nobody has reviewed it, and stands for one student', async () => {
  const page = await screen('Kiosk', null, '/check-in')
  await sees(page, en.checkIn.codeHelp)
  const heard = await page.locator('main').ariaSnapshot()
  expect(heard).toContain(`group "${en.language.label}"`)
  expect(heard).toContain('radio "English" [checked]')
  expect(heard).toMatch(/radio "Español .*sin revisar/)
  await page.getByRole('radio', { name: name.es }).click({ force: true })
  await sees(page, es.checkIn.codeHelp)
  await stands(page, 'es')
  await page.locator('.check-in-code input').fill('L7-105')
  await page.keyboard.press('Enter')
  await sees(page, es.checkIn.birthDate)
  await page.keyboard.type('01011999')
  await page.keyboard.press('Enter')
  await sees(page, es.siteRefusals.noMatch.says({}))
  await stands(page, 'es')
  await press(page, es.checkIn.startAgain)
  await sees(page, en.checkIn.codeHelp)
})

test('the track in Arabic: a gate refuses, a reading opens it, a lap is one touch, a hold is heard by whoever cannot see', async () => {
  await toTheTrack(journey, '109', '110')
  const page = await screen('Track 1', 'wren', '/run', tablet)
  await sees(page, en.run.assemble)
  await speaks(page, 'ar')
  await sees(page, ar.run.readingNone)
  await stands(page, 'ar')
  await reads(journey, 240)
  await page.getByRole('button', { name: new RegExp(ar.run.gun) }).click()
  await lapKey(page, '109').waitFor()
  await journey.clock.forward(100_000)
  await lapKey(page, '109').click()
  await expect.poll(async () => (await runnerOf(journey, '109')).crossings.length).toBe(1)
  await stands(page, 'ar')

  await journey.tell('Safety', 'rashid', 'raiseHold', { holdId: 'hold-1', kind: 'heat', zoneId: 'track' })
  const notice = page.getByRole('alertdialog')
  await notice.waitFor()
  const heard = await notice.ariaSnapshot()
  expect(heard).toContain(ar.hold.acknowledge)
  expect(await page.locator('[role=alertdialog]').evaluate((element) => getComputedStyle(element).direction)).toBe('rtl')
  await press(page, ar.hold.acknowledge)
  await notice.waitFor({ state: 'detached' })
  await stands(page, 'ar')
})

test('the board speaks what the device was told, and the office, which has English only, offers no other', async () => {
  const board = await screen('Board', null, '/board')
  await sees(board, en.board.now)
  await speaks(board, 'ar')
  await sees(board, ar.board.now)
  // What a hold covers is the site's own name, or our word in the language of the screen.
  await journey.tell('Safety', 'rashid', 'raiseHold', { holdId: 'hold-2', kind: 'lightning', zoneId: null })
  await sees(board, ar.raiseHold.wholeSite)
  await stands(board, 'ar')

  const office = await screen('Office desk', 'ines', '/office')
  await sees(office, officeWords.title)
  expect(await office.getByRole('button', { name: en.language.label }).count()).toBe(0)
})
