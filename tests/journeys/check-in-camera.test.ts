import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { chromium, type Browser } from 'playwright-core'
import encodeQR from 'qr'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openJourney, type Journey } from './academy.ts'
import { axe, executablePath } from './browser.ts'
import { nothingBroke } from './station-hands.ts'

let journey: Journey
let browser: Browser
const folder = mkdtempSync(join(tmpdir(), 'musterbook-camera-'))
beforeAll(async () => {
  const film = join(folder, 'card.y4m')
  writeFileSync(film, filmOf('L7-108'))
  journey = await openJourney()
  browser = await chromium.launch({
    executablePath,
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--use-fake-ui-for-media-stream',
      '--use-fake-device-for-media-stream',
      `--use-file-for-fake-video-capture=${film}`,
    ],
  })
})
afterAll(async () => {
  await browser?.close()
  await journey?.close()
  rmSync(folder, { recursive: true, force: true })
})

test('a card held in front of the camera is read as if it had been scanned', async () => {
  const kiosk = await journey.client('Kiosk')
  const context = await browser.newContext({ baseURL: journey.open.house.address, permissions: ['camera'] })
  const [name = '', value = ''] = kiosk.cookieHeader().split('=')
  await context.addCookies([{ name, value, url: journey.open.house.address, httpOnly: true, sameSite: 'Strict' }])
  const page = await context.newPage()
  const complaints: string[] = []
  page.on('console', (message) => message.type() === 'error' && complaints.push(message.text()))
  await page.goto('/check-in')
  await page.getByRole('button', { name: 'Use the camera' }).click()
  await page.getByText('Day, month, year').waitFor({ timeout: 30_000 })
  await page.keyboard.type('02032003')
  await page.keyboard.press('Enter')
  await page.getByText('Sunniva Pell').waitFor()
  expect(await axe(page)).toEqual([])
  nothingBroke(complaints)
})

/** Two frames of what a camera sees of a card, as uncompressed video (YUV4MPEG2, 4:2:0). */
function filmOf(code: string): Buffer {
  const [width, height, cell] = [640, 480, 12]
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
  const frame = Buffer.concat([Buffer.from('FRAME\n'), luma, Buffer.alloc((width * height) / 2, 128)])
  return Buffer.concat([Buffer.from(`YUV4MPEG2 W${width} H${height} F10:1 Ip A1:1 C420jpeg\n`), frame, frame])
}
