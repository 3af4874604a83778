import { mkdtempSync, rmSync } from 'node:fs'
import { readFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { composeHouse, type House } from '../../ops/house.ts'
import { builtScreens } from '../../ops/screens.ts'
import { axe, newDevice, openBrowser, type Device } from './browser.ts'

/** A new site, from an empty folder to an open day, through nothing but its screens. */
let house: House
let browser: Browser
let desk: Device
const folder = mkdtempSync(join(tmpdir(), 'musterbook-set-up-'))

beforeAll(async () => {
  house = await composeHouse({
    data: join(folder, 'data'),
    keyFile: join(folder, 'keys', 'medical.key'),
    port: 0,
    host: '127.0.0.1',
    speed: 1,
    pinCost: 16,
    lockAfterMs: 60 * 60_000,
    screens: process.env.MUSTERBOOK_SCREENS ?? (await builtScreens(() => {})),
  })
  browser = await openBrowser()
  desk = await newDevice(browser, { width: 1280, height: 800, touch: false, baseURL: house.address })
})
afterAll(async () => {
  await browser?.close()
  await house?.close()
  rmSync(folder, { recursive: true, force: true })
})

const part = (page: Page, name: string) => page.getByRole('group', { name: 'Parts of the office' }).getByText(name, { exact: true }).click()
const downloaded = async (page: Page, link: string) => {
  const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('link', { name: link }).click()])
  return { name: download.suggestedFilename(), text: await readFile(await download.path(), 'utf8') }
}
const bring = (page: Page, { name, text }: { name: string; text: string }) =>
  page.locator('input[type=file]').setInputFiles({ name, mimeType: 'application/octet-stream', buffer: Buffer.from(text) })
const recorded = (page: Page) => page.locator('.last-told [data-said="recorded"]').waitFor()

test('the set-up says what is missing, what is wrong, and then stands', async () => {
  const { page } = desk
  await page.goto('/set-up')
  await page.getByLabel('One-time code').waitFor()
  expect(await axe(page)).toEqual([])
  await page.getByRole('button', { name: 'Set up' }).click()
  await page.getByRole('alert').getByText('Something is missing').waitFor()
  expect(await page.getByText('This is needed.').count()).toBe(3)
  expect(await axe(page)).toEqual([])

  await page.getByLabel('One-time code').fill('AAAA-BBBB-CCCC')
  await page.getByLabel('Name of the site').fill('Skarnvale Mountain Rescue Academy (invented)')
  await page.getByLabel('Time zone').fill('Europe/Oslo')
  await page.getByLabel('Your name').fill('Ines Varga')
  await page.getByLabel('Your PIN', { exact: true }).fill('270511')
  await page.getByLabel('Your PIN again').fill('270512')
  await page.getByRole('button', { name: 'Set up' }).click()
  await page.getByText('The two new PINs differ.').waitFor()
  await page.getByLabel('Your PIN again').fill('270511')
  await page.getByRole('button', { name: 'Set up' }).click()
  await page.getByText('That is not the set-up code.').first().waitFor()

  await page.getByLabel('One-time code').fill(house.setUpCode!)
  await page.getByRole('button', { name: 'Set up' }).click()
  await page.waitForURL('**/office')
  await page.getByText('Signed on: Ines Varga').waitFor()
})

test('a day does not open while rules, students and track are missing, and each is named', async () => {
  const { page } = desk
  await part(page, 'Test day')
  await page.getByLabel('Title').fill('Entry test, class Lark-7')
  await page.getByRole('button', { name: 'Open the day' }).click()
  const missing = page.getByRole('alert')
  await missing.getByText('No rules of the day are in force: two people adopt them first.').waitFor()
  await missing.getByText('Agility: protocol agility is not in force: two people adopt it first.').waitFor()
  expect(await axe(page)).toEqual([])
})

test('a roster with a mark at its start, semicolons, a bad row and a look-alike: every fate is seen before anything is saved', async () => {
  const { page } = desk
  await part(page, 'Roster')
  const rows = [
    'Code;Family name;Given name;Birth date;Norm sex;Class;Language',
    'L7-001;Marsh;Ada;11.05.2001;W;Lark-7;en',
    'L7-002;Marsh;Adam;02.03.2000;M;Lark-7;en',
    'L7-003;Brandt;Kofi;31.02.1997;M;Lark-7;en',
    'L7-004;"Pell";Sunniva;14.09.2002;W;Lark-7;en',
    'L7-005;Ekström;Łucja;01.12.1999;W;Lark-7;es',
  ]
  await page.locator('input[type=file]').setInputFiles({
    name: 'lark-7.csv',
    mimeType: 'text/csv',
    buffer: Buffer.from(`\uFEFF${rows.join('\r\n')}\r\n`, 'utf8'),
  })
  const preview = page.getByRole('region', { name: 'What would become of every row' }).first()
  await preview.waitFor()
  expect(await page.getByRole('rowheader', { name: 'Łucja Ekström' }).count()).toBe(1)
  const kofi = page.getByRole('row').filter({ hasText: 'L7-003' })
  await kofi.getByText('Cannot be taken').waitFor()
  const adam = page.getByRole('row').filter({ hasText: 'L7-002' })
  await adam.getByText('Could be taken for').waitFor()
  expect(await axe(page)).toEqual([])
  expect(await house.office.classes()).toEqual([])

  for (const box of await page.getByRole('checkbox').all()) await box.check({ force: true })
  await page.getByRole('button', { name: 'Accept and save' }).click()
  await page.getByText('4 rows taken, 1 left Left: lines 4').waitFor()
  expect((await house.office.classes()).map(({ name, students }) => [name, students])).toEqual([['Lark-7', 4]])
  await expect.poll(() => page.getByText('Similar name in this class').count()).toBe(2)
  expect(await axe(page)).toEqual([])

  const saved = await downloaded(page, 'Save the class as a file')
  expect(saved.text.split('\r\n')[0]).toMatch(/^#musterbook roster;Lark-7;version 1;written by Ines Varga;.*;sha256:[0-9a-f]{64}$/)
  await bring(page, saved)
  await page.getByText('Exported here: Lark-7, version 1. The checksum matches.').waitFor()
  await page.getByText('Nothing differs.').waitFor()
  await bring(page, { ...saved, text: saved.text.replace('Sunniva', 'Sunnivah') })
  await page.getByText('This file was changed after it was exported: nothing is wrong with that', { exact: false }).waitFor()
  await page.getByText('Given name: Sunniva → Sunnivah.').waitFor()
  await page.getByRole('button', { name: 'Discard this preview' }).click()
})

test('people with roles, a qualification and a first PIN; the track measured against the protocol; equipment with its due date', async () => {
  const { page } = desk
  await part(page, 'People')
  await page.getByRole('button', { name: 'Add a person' }).click()
  const adding = page.getByRole('dialog')
  await adding.getByLabel('Name').fill('Tomas Lindqvist')
  await adding.getByLabel('Supervisor').check({ force: true })
  await adding.getByLabel('First PIN').fill('481927')
  expect(await axe(page)).toEqual([])
  await adding.getByRole('button', { name: 'Add', exact: true }).click()
  await page.getByRole('rowheader', { name: 'Tomas Lindqvist' }).waitFor()

  await part(page, 'Venue')
  await page.getByText('No measured track').first().waitFor()
  await page.getByRole('button', { name: 'Change Track' }).click()
  const zone = page.getByRole('dialog')
  await zone.getByLabel('A measured track lies here').check({ force: true })
  await zone.getByLabel('One lap, metres').fill('400')
  await zone.getByRole('button', { name: 'Save' }).click()
  await page.getByText('14.016 m from what Run, one and a half miles asks', { exact: false }).waitFor()
  expect(await axe(page)).toEqual([])
  await page.getByRole('button', { name: 'Change Track' }).click()
  await page.getByRole('dialog').getByLabel('Start this far behind the finish line, metres').fill('14.016')
  await page.getByRole('dialog').getByRole('button', { name: 'Save' }).click()
  await page.getByText('as Run, one and a half miles asks', { exact: false }).waitFor()

  await part(page, 'Equipment')
  for (const [id, kind, stands, foot] of [
    ['S-1', 'scale', '', ''],
    ['R-1', 'box', 'reach', '260'],
  ] as const) {
    await page.getByRole('button', { name: 'Register an item' }).click()
    const item = page.getByRole('dialog')
    await item.getByLabel('Mark on the item').fill(id)
    await item.getByLabel('Name', { exact: true }).fill(`Item ${id}`)
    await item.getByLabel('Kind').selectOption(kind)
    if (stands) await item.getByLabel('Stands at').selectOption(stands)
    if (foot) await item.getByLabel('Foot-line, millimetres').fill(foot)
    await item.getByLabel('Calibration holds until').fill('2020-01-31')
    await item.getByRole('button', { name: 'Save' }).click()
    await page.getByRole('rowheader', { name: id }).waitFor()
  }
  expect(await page.getByText('2020-01-31, overdue').count()).toBe(2)
  expect(await axe(page)).toEqual([])
})

test('rules are read whole, proposed by one person, and in force only when another has confirmed', async () => {
  const { page } = desk
  await part(page, 'Rules')
  await page.getByRole('button', { name: 'Read it whole: Agility' }).click()
  await page.getByText('Invented', { exact: false }).first().waitFor()
  expect(await axe(page)).toEqual([])
  const kinds = ['Protocols', 'Norm tables', 'Heat policies', 'Rules of the day', 'Health questions']
  const names: Record<string, RegExp> = { 'Norm tables': /^Propose for adoption: FX-1/, 'Heat policies': /^Propose for adoption: HP-1/ }
  for (const kind of kinds) {
    await page.getByRole('group', { name: 'Kind of rule' }).getByText(kind, { exact: true }).click()
    for (;;) {
      const offered = page.getByRole('button', { name: names[kind] ?? /^Propose for adoption/ })
      const left = await offered.count()
      if (left === 0) break
      await offered.first().click()
      await expect.poll(() => offered.count()).toBe(left - 1)
    }
  }
  await writesTheCard(page)
  expect(await page.getByRole('button', { name: /^Confirm as second person/ }).count()).toBe(0)

  await page.getByRole('button', { name: 'Sign off' }).click()
  await page.getByRole('button', { name: 'Tomas Lindqvist' }).click()
  await page.getByLabel('PIN').fill('481927')
  await page.getByRole('button', { name: 'Sign on' }).last().click()
  await page.getByText('Signed on: Tomas Lindqvist').waitFor()
  await page.getByText('Choose your own before anything else').waitFor()
  expect(await page.getByRole('navigation', { name: 'Parts of the office' }).count()).toBe(0)
  expect(await axe(page)).toEqual([])
  await page.getByLabel('PIN now').fill('481927')
  await page.getByLabel('New PIN', { exact: true }).fill('593028')
  await page.getByLabel('New PIN again').fill('593028')
  await page.getByRole('button', { name: 'Change it' }).click()
  await part(page, 'Rules')
  for (const kind of [...kinds, 'Emergency card']) {
    await page.getByRole('group', { name: 'Kind of rule' }).getByText(kind, { exact: true }).click()
    const waiting = page.getByRole('button', { name: /^Confirm as second person/ })
    await waiting.first().waitFor()
    for (let left = await waiting.count(); left > 0; left--) {
      await waiting.first().click()
      await expect.poll(() => waiting.count()).toBe(left - 1)
    }
  }
  expect(
    (await house.office.rules())
      .filter(({ state }) => state === 'inForce')
      .map(({ id }) => id)
      .sort(),
  ).toEqual(['DP-1', 'EC', 'FX-1', 'HP-1', 'HQ-1', 'agility', 'benchPress', 'run', 'sitAndReach', 'skinfold'].sort())
  await recorded(page)
})

/** The site's own words, none of them given: what is left out is asked for, and the second person reads it whole. */
async function writesTheCard(page: Page): Promise<void> {
  await page.getByRole('group', { name: 'Kind of rule' }).getByText('Emergency card', { exact: true }).click()
  await page.getByRole('button', { name: 'Write the card' }).click()
  const dialog = page.getByRole('dialog')
  const fill = (label: string, words: string) => dialog.getByLabel(label, { exact: true }).fill(words)
  await fill('What to do first', 'Call by radio.\nOne goes to the gate.')
  await fill('Phone numbers and radio channels', 'Emergency: 00 00 00 00')
  await fill('Address of the site', '1 Invented Road')
  await fill('Where the ambulance is met', 'North gate')
  await fill('Where things are', 'Defibrillator: timing hut')
  await fill('Nearest hospital', 'Skarnvale (invented)')
  await fill('Written by', 'P. Holm, clinician')
  await dialog.getByRole('button', { name: 'Propose for adoption' }).click()
  await dialog.getByRole('alert').waitFor()
  await fill('Written on', '2027-04-20')
  expect(await axe(page)).toEqual([])
  await dialog.getByRole('button', { name: 'Propose for adoption' }).click()
  await page.getByText(/You proposed this/).waitFor()
  await page.getByRole('button', { name: 'Read it whole: Emergency card' }).click()
  await page.getByText('North gate').waitFor()
}

test('rules of the day go out as a file: unchanged nothing differs, changed they are a draft that a second person adopts', async () => {
  const { page } = desk
  await page.getByRole('group', { name: 'Kind of rule' }).getByText('Rules of the day', { exact: true }).click()
  const saved = await downloaded(page, 'Save as a file: Rules of the day DP-1')
  await bring(page, saved)
  await page.getByText('The checksum matches: the file is as it was exported.').waitFor()
  await page.getByText('Nothing differs.').waitFor()

  await bring(page, { ...saved, text: saved.text.replace('"retestDays": 14', '"retestWeeks": 3') })
  const refused = page.getByRole('region', { name: 'From the file' }).getByRole('alert')
  await refused.getByText('It cannot be taken as it stands. Nothing was changed.').waitFor()
  await refused.getByText(/^Line \d+: retestWeeks is not known here/).waitFor()
  expect(await page.getByRole('button', { name: 'Propose this draft for adoption' }).count()).toBe(0)

  await bring(page, { ...saved, text: saved.text.replace('"retestDays": 14', '"retestDays": 21').replaceAll('invented, 1', 'invented, 2') })
  await page.getByText('nothing is wrong with that, it becomes a new draft version', { exact: false }).waitFor()
  await page.getByRole('row', { name: 'retestDays 14 21' }).waitFor()
  expect(await axe(page)).toEqual([])
  await page.getByRole('button', { name: 'Propose this draft for adoption' }).click()
  await page.getByText('You proposed this.', { exact: false }).waitFor()
  expect(await page.getByRole('table', { name: 'What differs from invented, 1, in force' }).getByRole('row').count()).toBe(3)

  await page.getByRole('button', { name: 'Sign off' }).click()
  await page.getByRole('button', { name: 'Ines Varga' }).click()
  await page.getByLabel('PIN').fill('270511')
  await page.getByRole('button', { name: 'Sign on' }).last().click()
  await part(page, 'Rules')
  await page.getByRole('group', { name: 'Kind of rule' }).getByText('Rules of the day', { exact: true }).click()
  await page.getByRole('button', { name: 'Confirm as second person: Rules of the day DP-1' }).click()
  await page.getByText('Proposed by Tomas Lindqvist, confirmed by Ines Varga', { exact: false }).waitFor()
  const inForce = (await house.office.rules()).find(({ kind, state }) => kind === 'dayPolicy' && state === 'inForce')
  expect(inForce).toMatchObject({ edition: 'invented, 2', content: { retestDays: 21 } })
})

test('another PIN, then an open day, and a code for the first tablet', async () => {
  const { page } = desk
  await part(page, 'My PIN')
  await page.getByLabel('PIN now').fill('270511')
  await page.getByLabel('New PIN', { exact: true }).fill('604139')
  await page.getByLabel('New PIN again').fill('604139')
  await page.getByRole('button', { name: 'Change it' }).click()
  await page.getByText('PIN changed').waitFor()
  expect(await axe(page)).toEqual([])

  await part(page, 'Test day')
  await page.getByLabel('Title').fill('Entry test, class Lark-7')
  await page.getByLabel(/^Lark-7, 4 students/).check({ force: true })
  await page.getByRole('button', { name: 'Open the day' }).click()
  const missing = page.getByRole('alert')
  await missing.getByText('Sit and reach: the calibration of Item R-1 ended 2020-01-31.').waitFor()
  await part(page, 'Equipment')
  await page.getByRole('button', { name: 'Change R-1' }).click()
  await page.getByRole('dialog').getByLabel('Calibration holds until').fill('2099-12-31')
  await page.getByRole('dialog').getByRole('button', { name: 'Save' }).click()
  await page.getByText('2099-12-31').waitFor()
  await part(page, 'Test day')
  await page.getByLabel('Title').fill('Entry test, class Lark-7')
  await page.getByLabel(/^Lark-7, 4 students/).check({ force: true })
  await page.getByRole('button', { name: 'Open the day' }).click()
  await expect
    .poll(() => page.locator('.office-missing, form [role=status]').allTextContents())
    .toEqual(['The day is open: Entry test, class Lark-7'])

  await part(page, 'Devices')
  await page.getByRole('button', { name: 'Add a device' }).click()
  await page.getByLabel('Name of the device').fill('Agility')
  await page.getByRole('dialog').getByLabel('Station', { exact: true }).selectOption('agility')
  await page.getByRole('button', { name: 'Make a code' }).click()
  await page.getByRole('heading', { name: /^Code for Agility, good until/ }).waitFor()
  expect(await axe(page)).toEqual([])
  const code = (await page.locator('.office-code-text').textContent()) ?? ''

  const tablet = await newDevice(browser, { width: 1280, height: 800, baseURL: house.address })
  await tablet.page.goto(`/station?code=${code}`)
  await tablet.page.getByRole('button', { name: 'Enrol this device' }).click()
  await tablet.page.getByText('Who is working here?').waitFor()
  await tablet.context.close()
  // A refusal is an answer; the browser's own line about its status is no complaint.
  expect(desk.complaints.filter((line) => !line.startsWith('Failed to load resource'))).toEqual([])
})
