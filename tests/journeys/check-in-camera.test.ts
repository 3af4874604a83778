import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import encodeQR from 'qr'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { DeviceClient } from '../../ops/device-client.ts'
import { badgeOf, cookiesOf, openJourney, tablet, type Journey } from './academy.ts'
import { axe, openBrowser } from './browser.ts'
import { isInstalled, onlyCutOff } from './offline-hands.ts'
import { eventually, safetyOf } from './run-hands.ts'
import { nothingBroke } from './station-hands.ts'

let journey: Journey
const browsers: Browser[] = []
const folder = mkdtempSync(join(tmpdir(), 'musterbook-camera-'))
beforeAll(async () => {
  journey = await openJourney()
})
afterAll(async () => {
  for (const browser of browsers) await browser.close()
  await journey?.close()
  rmSync(folder, { recursive: true, force: true })
})

/** One of the academy's devices whose camera sees this film over and over. */
async function withCamera(film: Buffer, client: DeviceClient): Promise<{ page: Page; complaints: string[] }> {
  const path = join(folder, `${browsers.length}.y4m`)
  writeFileSync(path, film)
  const browser = await openBrowser([
    '--use-fake-ui-for-media-stream',
    '--use-fake-device-for-media-stream',
    `--use-file-for-fake-video-capture=${path}`,
  ])
  browsers.push(browser)
  const context = await browser.newContext({ baseURL: journey.open.house.address, permissions: ['camera'] })
  await context.addCookies(cookiesOf(client, journey.open.house.address))
  const page = await context.newPage()
  const complaints: string[] = []
  page.on('console', (message) => message.type() === 'error' && complaints.push(message.text()))
  return { page, complaints }
}

test('a card held in front of the camera is read as if it had been scanned', async () => {
  const { page, complaints } = await withCamera(filmOf([cardOf('L7-108')], 2), await journey.client('Kiosk'))
  await page.goto('/check-in')
  await page.getByRole('button', { name: 'Use the camera' }).click()
  await page.getByText('Day, month, year').waitFor({ timeout: 30_000 })
  await page.keyboard.type('02032003')
  await page.keyboard.press('Enter')
  await page.getByText('Sunniva Pell').waitFor()
  expect(await axe(page)).toEqual([])
  nothingBroke(complaints)
})

test('a badge held in front of the camera chooses its person, and the PIN is asked', async () => {
  const { page, complaints } = await withCamera(filmOf([cardOf(await badgeOf(journey, 'juno'))], 2), await journey.client('Reach'))
  await page.goto('/station?station=reach')
  await page.getByRole('button', { name: 'Read a badge' }).click()
  await page.getByRole('heading', { name: journey.open.academy.staff.juno.name }).waitFor({ timeout: 30_000 })
  await page.getByLabel('PIN').fill(journey.open.academy.staff.juno.pin)
  await page.keyboard.press('Enter')
  await page.getByText(`Signed on: ${journey.open.academy.staff.juno.name}`).waitFor()
  nothingBroke(complaints)
})

test('the codes that a tablet out of reach shows are read by another tablet’s camera, in whatever order, and told as its own', async () => {
  await journey.bring(['108', '109'], 'bib')
  const lone = await journey.openScreen('Track 2', 'bo', '/carried', { ...tablet, installed: true })
  await isInstalled(journey, lone.page)
  await lone.context.setOffline(true)
  for (const bib of ['108', '109']) {
    await lone.page.getByRole('button', { name: 'Stop a student' }).tap()
    await lone.page.getByRole('dialog').getByRole('button').filter({ hasText: bib }).first().tap()
  }
  await lone.page.getByText('2 acts are kept on Track 2 and not in the record.').waitFor()
  await lone.page.setViewportSize({ width: 1280, height: 1400 })
  await lone.page.getByRole('button', { name: 'Show as codes' }).tap()
  const shown = lone.page.getByRole('img', { name: /^Code \d of \d/ })
  const of = Number(/of (\d)/.exec((await shown.getAttribute('aria-label')) ?? '')?.[1])
  expect(of).toBeGreaterThan(1)
  const seen: Buffer[] = []
  for (let n = 1; n <= of; n++) {
    await lone.page.getByRole('img', { name: `Code ${n} of ${of}` }).waitFor()
    seen.push(await pictureOf(lone.page, await shown.screenshot()))
    await lone.page.getByRole('button', { name: 'Next code' }).tap()
  }

  const { page, complaints } = await withCamera(filmOf(seen.reverse(), 10), await journey.client('Greeter', 'sanne'))
  await page.goto('/carried')
  await page.getByRole('button', { name: 'Read its codes with the camera' }).click()
  await page.getByText('It holds 2 acts of Track 2').waitFor({ timeout: 30_000 })
  expect(await axe(page)).toEqual([])
  expect((await safetyOf(journey)).stops).toEqual([])
  await page.getByRole('button', { name: 'Send 2 acts to the record' }).click()
  await page.getByText('in the record', { exact: true }).nth(1).waitFor()
  await eventually(async () => (await safetyOf(journey)).stops.length === 2)
  nothingBroke(complaints)
  onlyCutOff(lone.complaints)
})

/** What a camera delivers unless it is asked for more. */
const [width, height] = [640, 480]

/** How bright each point of a card is that is held before the camera. */
function cardOf(code: string): Buffer {
  const cell = 12
  const rows = encodeQR(code, 'raw', { ecc: 'medium', border: 4 })
  const luma = Buffer.alloc(width * height, 235)
  const [left, top] = [Math.floor((width - rows.length * cell) / 2), Math.floor((height - rows.length * cell) / 2)]
  for (const [y, row] of rows.entries())
    for (const [x, dark] of row.entries())
      if (dark)
        for (let line = 0; line < cell; line++) {
          const from = (top + y * cell + line) * width + left + x * cell
          luma.fill(16, from, from + cell)
        }
  return luma
}

/** The same of a picture of a screen, as far away as it fills the height. */
async function pictureOf(page: Page, png: Buffer): Promise<Buffer> {
  const bright = await page.evaluate(
    async ({ base64, width, height }) => {
      const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0))
      const image = await createImageBitmap(new Blob([bytes], { type: 'image/png' }))
      const drawing = new OffscreenCanvas(width, height).getContext('2d')!
      drawing.fillStyle = '#888'
      drawing.fillRect(0, 0, width, height)
      drawing.drawImage(image, (width - height) / 2, 0, height, height)
      const { data } = drawing.getImageData(0, 0, width, height)
      let letters = ''
      for (let at = 0; at < data.length; at += 4) letters += String.fromCharCode(16 + Math.round((data[at]! * 219) / 255))
      return btoa(letters)
    },
    { base64: png.toString('base64'), width, height },
  )
  return Buffer.from(bright, 'base64')
}

/** What a camera sees, one picture after the other, each for so many tenths of a second, as uncompressed video (YUV4MPEG2, 4:2:0). */
function filmOf(pictures: readonly Buffer[], tenths: number): Buffer {
  const colourless = Buffer.alloc((width * height) / 2, 128)
  const frames = pictures.flatMap((luma) => Array.from({ length: tenths }, () => [Buffer.from('FRAME\n'), luma, colourless]).flat())
  return Buffer.concat([Buffer.from(`YUV4MPEG2 W${width} H${height} F10:1 Ip A1:1 C420jpeg\n`), ...frames])
}
