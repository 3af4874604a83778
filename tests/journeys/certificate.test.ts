import { createHash, X509Certificate } from 'node:crypto'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { certificateIn, makeCertificate } from '../../ops/certificate-files.ts'
import { composeHouse, type House } from '../../ops/house.ts'
import { newDevice, openBrowser } from './browser.ts'

const site = mkdtempSync(join(tmpdir(), 'musterbook-certificate-'))
const folder = join(site, 'certificate')
const { certificate, key } = certificateIn(folder)
let house: House

beforeAll(async () => {
  await makeCertificate({ folder, data: join(site, 'data'), names: ['skarnvale.local', '127.0.0.1'] })
  house = await composeHouse({
    data: join(site, 'data'),
    keyFile: join(site, 'keys', 'medical.key'),
    port: 0,
    host: '127.0.0.1',
    speed: 1,
    pinCost: 16,
    tls: { certificateFile: certificate, keyFile: key },
  })
})
afterAll(async () => {
  await house?.close()
  rmSync(site, { recursive: true, force: true })
})

/** A tablet that reaches the laptop by its name on the network, with or without trust in its key. */
async function tablet<Seen>(
  isTrusted: boolean,
  see: (page: Awaited<ReturnType<typeof newDevice>>['page']) => Promise<Seen>,
): Promise<Seen> {
  const spki = new X509Certificate(readFileSync(certificate)).publicKey.export({ type: 'spki', format: 'der' })
  const browser = await openBrowser([
    '--host-resolver-rules=MAP skarnvale.local 127.0.0.1',
    ...(isTrusted ? [`--ignore-certificate-errors-spki-list=${createHash('sha256').update(spki).digest('base64')}`] : []),
  ])
  try {
    return await see((await newDevice(browser, { width: 1280, height: 800 })).page)
  } finally {
    await browser.close()
  }
}

test('a tablet that trusts the certificate has what offline work and cameras need; one that does not gets no page', async () => {
  const address = `https://skarnvale.local:${house.port}/api/clock`
  const seen = await tablet(true, async (page) => {
    await page.goto(address)
    return page.evaluate(() => ({ secure: isSecureContext, worker: 'serviceWorker' in navigator, camera: 'mediaDevices' in navigator }))
  })
  expect(seen).toEqual({ secure: true, worker: true, camera: true })
  await expect(tablet(false, (page) => page.goto(address))).rejects.toThrow(/ERR_CERT_AUTHORITY_INVALID/)
})

test('over https every cookie is for https alone, and ten live views side by side leave room for an answer', async () => {
  const body = {
    code: house.setUpCode,
    site: { name: 'Skarnvale (invented)', timeZone: 'Europe/Oslo' },
    coordinator: { name: 'Ines Varga', pin: '270511' },
  }
  const { cookies, answered } = await tablet(true, async (page) => {
    await page.goto(`https://skarnvale.local:${house.port}/api/clock`)
    await page.evaluate(
      (set) => fetch('/api/set-up', { method: 'POST', headers: { 'content-type': 'application/json' }, body: set }),
      JSON.stringify(body),
    )
    const answered = await page.evaluate(async () => {
      const views = Array.from({ length: 10 }, () => new EventSource('/api/days/none/live/day/all'))
      await Promise.all(views.map((view) => new Promise((resolve, reject) => Object.assign(view, { onopen: resolve, onerror: reject }))))
      return (await fetch('/api/clock')).status
    })
    return { cookies: await page.context().cookies(), answered }
  })
  const closed = { secure: true, httpOnly: true }
  expect(cookies).toMatchObject([closed, closed])
  expect(answered).toBe(200)
})
