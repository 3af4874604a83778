import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { createServer, type Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import { tmpdir } from 'node:os'
import { extname, join, normalize } from 'node:path'
import { fileURLToPath } from 'node:url'
import type { Browser } from 'playwright-core'
import { build } from 'vite'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { axe, newDevice, openBrowser, type Device } from './browser.ts'
import { dialogsKeepAndGiveBack, goesRoundByTab } from './keyboard.ts'
import { leastContrast, tooFaint } from './contrast.ts'

const kiosk = fileURLToPath(new URL('../../kiosk/', import.meta.url))
let browser: Browser
let server: Server
let origin: string
const built = mkdtempSync(join(tmpdir(), 'musterbook-parts-'))

beforeAll(async () => {
  await build({ root: kiosk, configFile: join(kiosk, 'vite.config.ts'), logLevel: 'error', build: { outDir: built } })
  server = serveStrictly(built)
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  origin = `http://127.0.0.1:${(server.address() as AddressInfo).port}`
  browser = await openBrowser()
})

afterAll(async () => {
  await browser?.close()
  server?.close()
  rmSync(built, { recursive: true, force: true })
})

describe.each([
  { width: 1280, height: 800 },
  { width: 390, height: 844 },
])('every part on a screen of $width × $height', (shape) => {
  test.each(['indoor', 'outdoor'] as const)('%s: axe finds nothing, nothing is cut off, nothing complains', async (theme) => {
    const device = await newDevice(browser, { ...shape, baseURL: origin })
    await lit(device, theme, '/parts.html')
    // The same part stands here in several states: the one thing this page may do and no screen may.
    expect(await axe(device.page, ['landmark-unique'])).toEqual([])
    expect(await tooFaint(device.page, leastContrast[theme])).toEqual([])
    expect(await overflowing(device)).toEqual([])

    // What fills a screen is looked at alone, as a screen.
    for (const address of await wholes(device)) {
      await lit(device, theme, `/parts.html${address}`)
      expect(await axe(device.page), address).toEqual([])
      expect(await tooFaint(device.page, leastContrast[theme]), address).toEqual([])
      expect(await overflowing(device), address).toEqual([])
    }
    expect(device.complaints).toEqual([])
    await device.context.close()
  })
})

test('every state of every part by keyboard alone: each control once, in its order, seen whole, no trap; dialogs keep it and give it back', async () => {
  const device = await newDevice(browser, { width: 1280, height: 800, baseURL: origin })
  await lit(device, 'indoor', '/parts.html')
  await goesRoundByTab(device.page)
  const openers = ['confirm-dialog', 'stop-dialog', 'hold-dialog', 'evidence-photo']
  for (const part of openers) expect(await dialogsKeepAndGiveBack(device.page, `[aria-labelledby="${part}"]`), part).toBeGreaterThan(0)
  for (const address of await wholes(device)) {
    await device.page.goto(`/parts.html${address}`)
    await device.page.locator('#screen > *').first().waitFor()
    await goesRoundByTab(device.page)
  }
  // The picture of the evidence lies at no site.
  expect(device.complaints.filter((one) => !one.includes('404'))).toEqual([])
  await device.context.close()
})

test.each(['es', 'ar'] as const)('every part in %s, in its direction: axe finds nothing, nothing is cut off', async (language) => {
  const device = await newDevice(browser, { width: 1280, height: 800, baseURL: origin })
  await lit(device, 'indoor', `/parts.html?language=${language}`)
  expect(await device.page.evaluate(() => document.documentElement.dir)).toBe(language === 'ar' ? 'rtl' : 'ltr')
  expect(await axe(device.page, ['landmark-unique'])).toEqual([])
  expect(await overflowing(device)).toEqual([])
  for (const address of await wholes(device)) {
    await lit(device, 'indoor', `/parts.html${address}&language=${language}`)
    expect(await axe(device.page), address).toEqual([])
    expect(await overflowing(device), address).toEqual([])
  }
  expect(device.complaints).toEqual([])
  await device.context.close()
})

test.each([
  { width: 800, height: 1280 },
  { width: 1920, height: 1080 },
  // 1280 × 800 at 200 % text.
  { width: 640, height: 400 },
])('nothing is cut off at $width × $height', async (shape) => {
  const device = await newDevice(browser, { ...shape, baseURL: origin })
  await lit(device, 'indoor', '/parts.html')
  expect(await overflowing(device)).toEqual([])
  for (const address of await wholes(device)) {
    await lit(device, 'indoor', `/parts.html${address}`)
    expect(await overflowing(device), address).toEqual([])
  }
  await device.context.close()
})

describe('on the reference tablet, by touch', () => {
  let device: Device
  const at = async (part: string, example: string) => {
    await device.page.goto(`/parts.html?part=${part}&example=${encodeURIComponent(example)}`)
    await device.page.locator('#screen > *').first().waitFor()
  }
  const touch = (name: string | RegExp) => device.page.getByRole('button', { name, exact: typeof name === 'string' }).tap()
  const status = (says: string) => device.page.getByRole('status').filter({ hasText: says }).waitFor()

  beforeAll(async () => {
    device = await newDevice(browser, { width: 1280, height: 800, baseURL: origin })
  })
  afterAll(() => device.context.close())

  test('the keys of the number pad are 20 mm with 3 mm between, and all of them are on the screen', async () => {
    await at('number-pad', 'nothing typed, for one student')
    const boxes = await device.page.$$eval('.pad-key', (keys) => keys.map((key) => key.getBoundingClientRect().toJSON() as DOMRect))
    expect(boxes).toHaveLength(12)
    for (const box of boxes) {
      expect(Math.min(box.width, box.height)).toBeGreaterThanOrEqual(118)
      // A frame takes some 160 px of the 800.
      expect(box.bottom).toBeLessThanOrEqual(640)
    }
    expect((boxes[1]?.left ?? 0) - (boxes[0]?.right ?? 0)).toBeGreaterThanOrEqual(18)
    expect((boxes[3]?.top ?? 0) - (boxes[0]?.bottom ?? 0)).toBeGreaterThanOrEqual(18)
  })

  test('nothing that is pressed is smaller than 44 px', async () => {
    await device.page.goto('/parts.html')
    await device.page.locator('.parts-part').first().waitFor()
    const small = await device.page.$$eval('button, select, summary, .tab, .tick, .field-input', (targets) =>
      targets
        .filter((target) => target.checkVisibility())
        .filter((target) => Math.min(target.getBoundingClientRect().width, target.getBoundingClientRect().height) < 44)
        .map((target) => target.outerHTML.slice(0, 120)),
    )
    expect(small).toEqual([])
  })

  test('a value is saved in five touches', async () => {
    await at('number-pad', 'asks when it must, and says what it saved')
    for (const key of ['3', '8', 'Decimal mark', '0', 'Save']) await touch(key)
    await status('Saved 380 tenths')
  })

  test('an unlikely value is asked about, and kept or typed again', async () => {
    await at('number-pad', 'asks when it must, and says what it saved')
    for (const key of ['8', '3', 'Save']) await touch(key)
    await device.page.getByRole('alert').filter({ hasText: 'far more' }).waitFor()
    await touch('Type it again')
    await device.page.getByText('No value yet').waitFor()
    for (const key of ['8', '3', 'Save', /^Keep 83.0/]) await touch(key)
    await status('Saved 830 tenths')
  })

  test('a hardware keyboard types on the pad', async () => {
    await at('number-pad', 'asks when it must, and says what it saved')
    await device.page.getByRole('button', { name: 'Save' }).focus()
    await device.page.keyboard.type('-4,5')
    await device.page.keyboard.press('Enter')
    await status('Saved -45 tenths')
  })

  test('a student is stopped in two touches', async () => {
    await at('frame', 'a station, in contact')
    await touch('Stop a student')
    await touch(/Stop #104/)
    await status('Stop: s-104')
    expect(await device.page.locator('dialog[open]').count()).toBe(0)
  })

  test('a student who is not listed is stopped by bib', async () => {
    await at('frame', 'a station, in contact')
    await touch('Stop a student')
    for (const key of ['1', '1', '9', 'Stop']) await touch(key)
    await status('Stop: bib 119')
  })

  test('nobody scrolls to stop one of a whole wave', async () => {
    await at('stop-dialog', 'a wave of fourteen')
    await touch('Stop a student')
    await device.page.locator('dialog[open]').waitFor()
    const foot = await device.page.$eval('.dialog-foot', (end) => end.getBoundingClientRect().top)
    const lowest = await device.page.$$eval('.stop-student', (keys) => Math.max(...keys.map((key) => key.getBoundingClientRect().bottom)))
    expect(lowest).toBeLessThanOrEqual(foot)
  })

  test('a hold is raised in two touches, where the screen stands', async () => {
    await at('frame', 'a station, in contact')
    await touch('Raise a hold')
    await touch(/^Lightning/)
    await status('Hold: lightning, track')
  })

  test('a hold everywhere takes one touch more; Escape raises nothing', async () => {
    await at('frame', 'a station, in contact')
    await touch('Raise a hold')
    await device.page.locator('dialog[open]').waitFor()
    await device.page.keyboard.press('Escape')
    await device.page.locator('dialog[open]').waitFor({ state: 'detached' })
    expect(await device.page.getByRole('status').filter({ hasText: 'Hold:' }).count()).toBe(0)
    await touch('Raise a hold')
    await device.page.getByText('Everywhere outdoors').first().tap()
    await touch(/^Heat/)
    await status('Hold: heat, null')
  })

  test('both ways to stop stay on the screen while it scrolls', async () => {
    await device.page.setViewportSize({ width: 1280, height: 400 })
    await at('frame', 'a station, in contact')
    await device.page.mouse.wheel(0, 2_000)
    await touch('Stop a student')
    await device.page.locator('dialog[open]').waitFor()
    await device.page.setViewportSize({ width: 1280, height: 800 })
  })

  test('a hold that fills the screen does not go away by Escape', async () => {
    await at('hold-notice', 'twelve on the track')
    await device.page.keyboard.press('Escape')
    await device.page.keyboard.press('Escape')
    await device.page.waitForTimeout(200)
    expect(await device.page.getByRole('alertdialog').isVisible()).toBe(true)
  })

  test('a lap is one touch, the keys stay still for the next thumb, and the last touch can be taken back', async () => {
    await at('lap-pad', 'a wave of eight')
    const bibs = () => device.page.$$eval('.lap-bib', (keys) => keys.map(({ textContent }) => textContent))
    const before = await bibs()
    const where = () => device.page.$$eval('.lap-key', (keys) => keys.map((key) => key.getBoundingClientRect().toJSON() as unknown))
    const standing = await where()
    await touch(/^104/)
    await device.page.getByRole('button', { name: /^104.*2 laps to go/s }).waitFor()
    expect(await bibs()).toEqual(before)
    await device.page.getByRole('button', { name: /^Undo 104/ }).waitFor()
    expect(await where()).toEqual(standing)
    await expect.poll(bibs, { timeout: 5_000 }).toEqual([...before.slice(1), '104'])
    await touch(/^Undo 104/)
    await device.page.getByRole('button', { name: /^104.*3 laps to go/s }).waitFor()
  })

  test('a stopwatch starts and stops at the touch', async () => {
    await at('stopwatch', 'ready')
    await touch('Start')
    await device.page.waitForTimeout(300)
    await touch('Stop')
    const digits = Number(await device.page.locator('.watch-digits').textContent())
    expect(digits).toBeGreaterThanOrEqual(0.3)
    expect(digits).toBeLessThan(3)
  })

  test('the theme is kept on the device', async () => {
    await at('frame', 'a station, in contact')
    await touch('Outdoor')
    await device.page.reload()
    await device.page.locator('html[data-theme=outdoor]').waitFor()
    await touch('Indoor')
  })

  test('nothing complained meanwhile', () => {
    expect(device.complaints).toEqual([])
  })
})

async function lit({ page }: Device, theme: 'indoor' | 'outdoor', address: string): Promise<void> {
  await page.addInitScript((kept) => localStorage.setItem('musterbook.theme', kept), theme)
  await page.goto(address)
  await page.locator('#screen > *').first().waitFor()
  expect(await page.locator('html').getAttribute('data-theme')).toBe(theme)
}

/** Addresses of the examples that the page itself does not draw. */
const wholes = ({ page }: Device) =>
  page.$$eval('.parts-example', (examples) =>
    examples.filter(({ children }) => children.length === 1).map((example) => example.querySelector('a')?.getAttribute('href') ?? ''),
  )

/** What reaches beyond the width of the screen: a person would have to scroll sideways. */
const overflowing = ({ page }: Device) =>
  page.evaluate(() =>
    document.documentElement.scrollWidth <= innerWidth
      ? []
      : [...document.querySelectorAll('#screen *')]
          .filter((element) => element.getBoundingClientRect().right > innerWidth + 1 || element.getBoundingClientRect().left < -1)
          .slice(0, 5)
          .map((element) => element.outerHTML.slice(0, 120)),
  )

/** The built pages behind the policy that the site uses: what is inline breaks here and not first at the track. */
function serveStrictly(root: string): Server {
  const kinds: Record<string, string> = { '.html': 'text/html', '.js': 'text/javascript', '.css': 'text/css', '.woff2': 'font/woff2' }
  return createServer((request, response) => {
    const path = normalize(new URL(request.url ?? '/', 'http://here').pathname)
    try {
      const body = readFileSync(join(root, path))
      response.setHeader('content-type', kinds[extname(path)] ?? 'application/octet-stream')
      response.setHeader(
        'content-security-policy',
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; font-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'",
      )
      response.end(body)
    } catch {
      response.statusCode = path === '/favicon.ico' ? 204 : 404
      response.end()
    }
  })
}
