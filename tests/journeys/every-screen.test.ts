import { readdirSync } from 'node:fs'
import type { Page } from 'playwright-core'
import type { DemoStaff } from '@musterbook/office/demo-academy'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { ar } from '../../kiosk/src/words/ar.ts'
import { en } from '../../kiosk/src/words/en.ts'
import { floorScreens } from '../../kiosk/src/words/floor-screens.ts'
import { es } from '../../kiosk/src/words/es.ts'
import { openJourney, tablet, type Journey } from './academy.ts'
import { axe, type Device } from './browser.ts'
import { leastContrast, tooFaint } from './contrast.ts'
import { dialogGivesBack, goesRoundByTab } from './keyboard.ts'
import { reads, toTheTrack } from './run-hands.ts'

/** A morning with a wave out, lines at the stations, a reading, a student stopped and a hold: every screen as it then stands. */
let journey: Journey

const kiosk = { width: 1920, height: 1080 }
const upright = { width: 800, height: 1280 }
const phone = { width: 412, height: 915 }
const sizes = [tablet, kiosk]
const themes = ['indoor', 'outdoor'] as const

beforeAll(async () => {
  journey = await openJourney()
  await busyMorning()
})
afterAll(() => journey?.close())

const staffScreens: readonly { path: string; device: string; person: DemoStaff; shows: string }[] = [
  { path: '/medical', device: 'Medical 1', person: 'petra', shows: 'Medical' },
  { path: '/weigh-in', device: 'Medical 2', person: 'dai', shows: 'Weigh-in' },
  { path: '/floor', device: 'Greeter', person: 'sanne', shows: 'Floor' },
  { path: '/briefing', device: 'Office desk', person: 'ines', shows: 'Briefing' },
  { path: '/station?station=skinfold', device: 'Scale and skinfolds', person: 'juno', shows: 'Skinfolds, three sites' },
  { path: '/station?station=agility', device: 'Agility', person: 'mira', shows: 'Agility run' },
  { path: '/station?station=reach', device: 'Reach', person: 'juno', shows: 'Sit-and-reach' },
  { path: '/station?station=bench', device: 'Bench 1', person: 'colm', shows: 'Bench press, one repetition' },
  { path: '/run', device: 'Track 1', person: 'wren', shows: 'Track' },
  { path: '/safety', device: 'Safety', person: 'rashid', shows: 'Safety' },
  { path: '/supervisor', device: 'Track 2', person: 'tomas', shows: 'Supervisor' },
  { path: '/office', device: 'Bench 2', person: 'ines', shows: 'Office' },
  { path: '/records', device: 'Bench 2', person: 'ines', shows: 'Records' },
  { path: '/replay', device: 'Track 2', person: 'tomas', shows: 'Replay and cases' },
  { path: '/carried', device: 'Track 2', person: 'bo', shows: 'Carried by hand' },
  { path: '/paper', device: 'Track 2', person: 'tomas', shows: 'Paper' },
]
/** In English alone, their pages behind tabs. */
const atADesk = ['/medical', '/supervisor', '/office', '/records', '/replay']
const openScreens: readonly { path: string; device: string; shows: string }[] = [
  { path: '/check-in', device: 'Kiosk', shows: 'Check-in' },
  { path: '/board', device: 'Board', shows: 'Call board' },
]

/** Of the set-up before there is a day, and of every part by itself: they have a journey of their own. */
const elsewhere = ['set-up', 'parts', 'needs-server']

test('every screen that there is stands here', () => {
  const served = readdirSync('kiosk').flatMap((name) => (name.endsWith('.html') ? [name.slice(0, -'.html'.length)] : []))
  const here = [...staffScreens, ...openScreens].map(({ path }) => path.slice(1).split('?')[0]!)
  expect([...new Set([...here, ...elsewhere])].sort()).toEqual(served.sort())
})

describe.each(staffScreens)('$path', ({ path, device, person, shows }) => {
  test('stands at tablet and kiosk size, indoors and outdoors, stops anybody in two touches, and goes by keyboard alone', async () => {
    const screen = await journey.openScreen(device, person, path)
    screen.page.setDefaultTimeout(8_000)
    const failed = failedRequests(screen.page)
    await screen.page.getByRole('heading', { level: 1, name: shows, exact: true }).waitFor()
    await screen.page.getByText('Hold in force').first().waitFor()
    await standsEverywhere(screen)
    for (const size of sizes) {
      await screen.page.setViewportSize(size)
      await stopsInTwoTouches(screen.page)
    }
    await goesRoundByTab(screen.page)
    for (const name of ['Raise a hold', 'Stop a student']) await dialogGivesBack(screen.page, name)
    if (atADesk.includes(path)) await everyPageByTab(screen.page)
    await end(screen, failed)
  })
})

/** Each page of a desk, by its tab: whatever it fetches has come. */
async function everyPageByTab(page: Page): Promise<void> {
  const pages = page.locator('main .tabs').first().locator('.tab')
  for (let n = 1; n < (await pages.count()); n++) {
    await pages.nth(n).click()
    await expect.poll(() => page.getByText('Fetching from the office').count()).toBe(0)
    await goesRoundByTab(page)
  }
}

describe.each(openScreens)('$path', ({ path, device, shows }) => {
  test('stands at tablet and kiosk size, indoors and outdoors, and calls staff in one touch', async () => {
    const screen = await journey.openScreen(device, null, path)
    screen.page.setDefaultTimeout(8_000)
    const failed = failedRequests(screen.page)
    await screen.page.getByRole('heading', { level: 1, name: shows, exact: true }).waitFor()
    await standsEverywhere(screen)
    await goesRoundByTab(screen.page)
    expect(await inView(screen.page, 'Call staff')).toBe(true)
    await end(screen, failed)
  })
})

const ofTheFloor = [...staffScreens, ...openScreens.map((one) => ({ ...one, person: null }))].filter(({ path }) => !atADesk.includes(path))

describe.each([
  { language: 'es', dir: 'ltr' },
  { language: 'ar', dir: 'rtl' },
])('in $language', ({ language, dir }) => {
  test.each(ofTheFloor)('$path speaks nothing else, from its own side, cut off nowhere', async ({ path, device, person }) => {
    const screen = await inLanguage(language, device, person, path)
    const { page } = screen
    await page.locator(`html[lang=${language}][dir=${dir}]`).waitFor()
    await page.locator('.frame .shape, .frame-keys .button').first().waitFor()
    for (const size of [tablet, upright]) {
      await page.setViewportSize(size)
      const where = `${size.width}×${size.height}`
      expect([where, await axe(page)]).toEqual([where, []])
      expect([where, await cutOff(page)]).toEqual([where, []])
    }
    await page.setViewportSize(phone)
    expect(await cutOff(page)).toEqual([])
    expect(await ofThePhone(page)).toBeLessThanOrEqual(1 / 4)
    expect(await leftInEnglish(page, language)).toEqual([])
    await end(screen, [])
  })
})

test.each(atADesk)('%s, which has English only, is English whole on a device that speaks Arabic', async (path) => {
  const { device, person } = staffScreens.find((one) => one.path === path)!
  const screen = await inLanguage('ar', device, person, path)
  await screen.page.getByRole('heading', { level: 1 }).waitFor()
  await screen.page.getByText('Hold in force').first().waitFor()
  expect(await screen.page.evaluate(() => [document.documentElement.lang, document.documentElement.dir])).toEqual(['en', 'ltr'])
  // A language that is offered is named in its own script.
  const said = (await screen.page.locator('body').innerText()).replaceAll('العربية', '')
  expect(said).not.toMatch(/\p{Script=Arabic}/u)
  await end(screen, [])
})

/** WCAG 1.4.10: 320 CSS px wide is 1280 at 400 %; who needs it scrolls one way only. */
test.each(['/check-in', '/office', '/records'])('%s is read at 400 % without scrolling sideways', async (path) => {
  const { device, person } = [...staffScreens, ...openScreens.map((one) => ({ ...one, person: null }))].find((one) => one.path === path)!
  const screen = await journey.openScreen(device, person, path, { width: 320, height: 640 })
  await screen.page.getByRole('heading', { level: 1 }).waitFor()
  await screen.page.locator('main h2, main label').first().waitFor()
  expect(await axe(screen.page)).toEqual([])
  expect(await cutOff(screen.page)).toEqual([])
  await end(screen, [])
})

test('the first page leads to screens that stand, and has its caution', async () => {
  const screen = await journey.openScreen('Board', null, '/')
  const failed = failedRequests(screen.page)
  await standsEverywhere(screen)
  await screen.page.getByText('licensed clinicians').waitFor()
  const ways = await screen.page.getByRole('link').evaluateAll((links) => links.map((link) => link.getAttribute('href')!))
  expect(ways.length).toBeGreaterThan(10)
  for (const way of ways) expect([way, (await screen.page.request.get(way)).status()]).toEqual([way, 200])
  await end(screen, failed)
})

test('a locked screen names who raised the hold, and stops anybody all the same', async () => {
  const screen = await journey.openScreen('Agility', 'mira', '/station?station=agility')
  await screen.page.getByRole('button', { name: 'Sign off', exact: true }).click()
  await screen.page.getByRole('heading', { name: 'Who is working here?' }).waitFor()
  await screen.page.reload()
  await screen.page.getByText('by Rashid Benning').waitFor()
  expect(await screen.page.getByText(/\bperson-[0-9a-f]{8}/).count()).toBe(0)
  expect(await axe(screen.page)).toEqual([])
  await stopsInTwoTouches(screen.page)
  await screen.context.close()
})

/** Six out on the track, lines at three stations, one try under way, one student stopped, some at the desks; then a hold. */
async function busyMorning(): Promise<void> {
  const runners = ['101', '102', '103', '104', '105', '106']
  await toTheTrack(journey, ...runners)
  await journey.bring(['110', '111', '112', '113'])
  await journey.bring(['120', '121'], 'cleared')
  await journey.bring(['122', '123'], 'bib')
  await reads(journey, 240)
  const at = (bib: string, stationId: string) => ({ studentId: journey.studentId(bib), stationId })
  await journey.tell('Track 1', 'wren', 'startWave', {
    waveId: 'wave-1',
    stationId: 'run',
    runners: runners.map((bib) => ({ studentId: journey.studentId(bib), attemptId: `run-${bib}` })),
    official: true,
  })
  for (const stationId of ['skinfold', 'agility', 'reach', 'bench'])
    await journey.tell('Greeter', 'sanne', 'joinQueue', at('110', stationId))
  await journey.tell('Greeter', 'sanne', 'joinQueue', at('111', 'agility'))
  await journey.tell('Agility', 'mira', 'callUp', at('110', 'agility'))
  await journey.tell('Greeter', 'sanne', 'stopStudent', { studentId: journey.studentId('113'), zoneId: null, reason: 'notSaid' })
  await journey.tell('Safety', 'rashid', 'raiseHold', { holdId: 'hold-1', kind: 'heat', zoneId: 'track' })
}

async function standsEverywhere({ page }: Device): Promise<void> {
  // Black on white is 21: every word is measured.
  expect((await tooFaint(page, 22)).length).toBeGreaterThan(8)
  for (const size of sizes)
    for (const theme of themes) {
      await page.setViewportSize(size)
      await page.evaluate((theme) => (document.documentElement.dataset['theme'] = theme), theme)
      const where = `${size.width}×${size.height} ${theme}`
      expect([where, await axe(page)]).toEqual([where, []])
      expect([where, await tooFaint(page, leastContrast[theme])]).toEqual([where, []])
      const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)
      expect([where, over]).toEqual([where, 0])
    }
}

/** A device, and whoever is signed on there, that was told to speak it. */
async function inLanguage(language: string, device: string, person: DemoStaff | null, path: string): Promise<Device> {
  const screen = await journey.openScreen(device, person, path)
  screen.page.setDefaultTimeout(15_000)
  await screen.page.evaluate((language) => localStorage.setItem('musterbook.languages', JSON.stringify({ nobody: language })), language)
  await screen.page.reload()
  return screen
}

/** What of the page's words, and of its page, is wider than its place. */
const cutOff = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const over = document.documentElement.scrollWidth - document.documentElement.clientWidth
    const cut = [...document.querySelectorAll('button, h1, h2, h3, label, p, dt, dd')].filter(
      (one) => one.clientWidth > 1 && one.scrollWidth > one.clientWidth + 1 && getComputedStyle(one).display !== 'inline',
    )
    // A letter or two a line: a column that was left no width.
    const thin = [...document.querySelectorAll<HTMLElement>('p, span, strong, h1, h2, h3, li')].filter(
      (one) =>
        one.childElementCount === 0 &&
        one.clientHeight > 0 &&
        (one.textContent?.length ?? 0) > 8 &&
        one.clientHeight / parseFloat(getComputedStyle(one).lineHeight) > one.textContent!.length / 3,
    )
    return [
      ...(over > 0 ? [`the page by ${over} px`] : []),
      ...[...cut, ...thin].map((one) => `${one.tagName} ${one.className}: ${one.textContent}`),
    ]
  })

/** How much of a telephone what stands above the page takes, with a hold in force; the banner is a rehearsal's alone. */
const ofThePhone = (page: Page): Promise<number> =>
  page.evaluate(() => {
    const tall = (what: string) => document.querySelector(what)?.getBoundingClientRect().height ?? 0
    return (tall('.frame-head') - tall('.frame-banner')) / innerHeight
  })

/** Sentences of ours that stand, or are spoken, in English. What a source or the site wrote is marked as its own language, or is a name. */
async function leftInEnglish(page: Page, language: string): Promise<string[]> {
  const own = [{ ...en, ...floorScreens }, { es, ar }[language]!].map((words) => new Set(sentencesIn(words)))
  const said = await page.evaluate(() => {
    const texts = [...document.querySelectorAll('body *')]
      .filter((one) => one.closest('[lang]') === document.documentElement && !one.matches('script, style'))
      .flatMap((one) => [
        ...['aria-label', 'title', 'placeholder', 'alt'].map((name) => one.getAttribute(name) ?? ''),
        ...[...one.childNodes].filter((node) => node.nodeType === Node.TEXT_NODE).map((node) => node.textContent ?? ''),
      ])
    return [...new Set(texts.map((text) => text.trim()))]
  })
  const { students, staff } = journey.open.academy
  const people = [
    ...students.map(({ givenName, familyName }) => `${givenName} ${familyName}`),
    ...Object.values(staff).map(({ name }) => name),
  ]
  return said.filter((text) => {
    if (own[0]!.has(text) && !own[1]!.has(text) && !siteNames.includes(text)) return true
    const rest = [...people, ...siteNames].reduce((left, name) => left.replaceAll(name, ''), text)
    return language === 'ar' && /[a-z]{3,}\s+[a-z]{2,}/i.test(rest)
  })
}

/** What the site named: stations, the day, its zones. */
const siteNames = [
  'Track',
  'Gym',
  'Skinfolds, three sites',
  'Agility run',
  'Sit-and-reach',
  'Bench press, one repetition',
  'Run, one and a half miles',
  'Entry test, class Lark-7',
]

function sentencesIn(words: object): string[] {
  return Object.values(words).flatMap((value) =>
    typeof value === 'string' ? [value] : typeof value === 'object' && value ? sentencesIn(value as object) : [],
  )
}

/** The first touch is in view without scrolling, the second is a key of the dialog that it opens. Nothing is told here. */
async function stopsInTwoTouches(page: Page): Promise<void> {
  const heard = page.getByRole('alertdialog').getByRole('button', { name: 'I have heard it' })
  if (await heard.isVisible()) await heard.tap()
  for (const [first, title, second] of [
    ['Raise a hold', 'Raise a hold', /heat/i],
    ['Stop a student', 'Stop which student?', /^Stop/],
  ] as const) {
    expect([first, await inView(page, first)]).toEqual([first, true])
    await page.getByRole('button', { name: first, exact: true }).first().tap()
    const dialog = page.getByRole('dialog', { name: title })
    await dialog.getByRole('button', { name: second }).first().waitFor()
    await page.keyboard.press('Escape')
    await dialog.waitFor({ state: 'hidden' })
  }
}

async function inView(page: Page, name: string): Promise<boolean> {
  await page.evaluate(() => scrollTo(0, 0))
  const box = await page.getByRole('button', { name, exact: true }).first().boundingBox()
  const size = page.viewportSize()!
  return box !== null && box.x >= 0 && box.y >= 0 && box.x + box.width <= size.width && box.y + box.height <= size.height
}

/** Answers of 400 and more, and what never came; a live view that closes with its page is no failure. */
function failedRequests(page: Page): string[] {
  const failed: string[] = []
  page.on('response', (response) => response.status() >= 400 && failed.push(`${response.status()} ${response.url()}`))
  page.on('requestfailed', (request) => {
    if (request.failure()?.errorText !== 'net::ERR_ABORTED') failed.push(`${request.failure()?.errorText} ${request.url()}`)
  })
  return failed
}

async function end({ page, context, complaints }: Device, failed: readonly string[]): Promise<void> {
  expect(await page.getByText(/\b(person|student|device|hold)-[0-9a-f]{8}/).count()).toBe(0)
  expect(failed).toEqual([])
  expect(complaints).toEqual([])
  await context.close()
}
