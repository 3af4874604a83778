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
    expect(await overflowing(device)).toEqual([])

    // What fills a screen is looked at alone, as a screen.
    for (const address of await wholes(device)) {
      await lit(device, theme, `/parts.html${address}`)
      expect(await axe(device.page), address).toEqual([])
      expect(await overflowing(device), address).toEqual([])
    }
    expect(device.complaints).toEqual([])
    await device.context.close()
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
          .filter((element) => element.getBoundingClientRect().right > innerWidth + 1)
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
