import { connect, createServer, type AddressInfo, type Socket } from 'node:net'
import type { Page } from 'playwright-core'
import { expect } from 'vitest'
import { tablet, type Journey } from './academy.ts'
import type { Device } from './browser.ts'
import { eventually } from './run-hands.ts'

/** A tablet whose app is installed: its screens and its copy of the day lie on it. */
export async function installed(journey: Journey, device: string, person: Parameters<Journey['client']>[1], path: string): Promise<Device> {
  const made = await journey.openScreen(device, person ?? null, path, { ...tablet, installed: true })
  await isInstalled(journey, made.page)
  return made
}

/** Everything that the screen is made of is kept, and every entry that stands in the day. */
export async function isInstalled(journey: Journey, page: Page): Promise<void> {
  await page.evaluate(async () => void (await navigator.serviceWorker.ready))
  await eventually(async () => (await stored(page, 'entries')).length >= (await headOf(journey)), 20_000)
}

export async function headOf(journey: Journey): Promise<number> {
  const heard = await journey.open.desk.get(`/api/days/${journey.open.dayId}/entries?after=1000000`)
  return (heard.body['head'] as { version: number }).version
}

/** What lies in one of the tablet's stores. */
export const stored = (page: Page, store: 'entries' | 'outbox' | 'facts'): Promise<Record<string, unknown>[]> =>
  page.evaluate(
    (name) =>
      new Promise<Record<string, unknown>[]>((resolve, reject) => {
        const asked = indexedDB.open('musterbook')
        asked.onerror = () => reject(asked.error)
        asked.onsuccess = () => {
          const db = asked.result
          if (!db.objectStoreNames.contains(name)) return (db.close(), resolve([]))
          const all = db.transaction(name).objectStore(name).getAll()
          all.onsuccess = () => (db.close(), resolve(all.result as Record<string, unknown>[]))
        }
      }),
    store,
  )

/** The network is gone and the server too; every line breaks off. */
export async function cutOff(journey: Journey, ...devices: Device[]): Promise<void> {
  for (const { context } of devices) await context.setOffline(true)
  await journey.stopServer()
}

export async function backInReach(journey: Journey, ...devices: Device[]): Promise<void> {
  await journey.startServer()
  for (const { context } of devices) await context.setOffline(false)
}

export const unsent = (page: Page, says: string | RegExp) => page.locator('.frame-fact', { hasText: says }).waitFor({ timeout: 20_000 })

/**
 * A tablet with a small disk, told to the browser before any page has written on it. `fill` writes until nothing goes in
 * any more, as photos of somebody's would; `empty` gives all of it back.
 */
export async function smallDisk({ context, page }: Device, origin: string) {
  const browser = await context.newCDPSession(page)
  await browser.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: 30_000_000 })
  return {
    fill: () =>
      page.evaluate(async () => {
        const write = (size: number) =>
          new Promise<boolean>((resolve) => {
            const asked = indexedDB.open('photosOfSomebody', 1)
            asked.onupgradeneeded = () => asked.result.createObjectStore('photo', { autoIncrement: true })
            asked.onsuccess = () => {
              const change = asked.result.transaction('photo', 'readwrite')
              const bytes = new Uint8Array(size)
              for (let at = 0; at < size; at += 65_536) crypto.getRandomValues(bytes.subarray(at, at + 65_536))
              change.objectStore('photo').add(bytes)
              change.oncomplete = () => (asked.result.close(), resolve(true))
              change.onabort = () => (asked.result.close(), resolve(false))
            }
          })
        for (const size of [4_000_000, 500_000, 60_000, 8_000, 1_000]) while (await write(size));
      }),
    empty: () =>
      page.evaluate(() => new Promise<void>((resolve) => (indexedDB.deleteDatabase('photosOfSomebody').onsuccess = () => resolve()))),
  }
}

/** A line that breaks off is told on the console; nothing else may be. */
export const onlyCutOff = (complaints: readonly string[]): void =>
  expect(
    complaints.filter((one) => !/net::ERR_|status of (401|403|404|409|422|423|50\d)|ServiceWorker|Failed to load resource/.test(one)),
  ).toEqual([])

/** The way of one tablet to the server, which can be cut while others keep theirs: a browser's own switch leaves open streams open. */
export async function ownWay(journey: Journey): Promise<{ address: string; cut(): void; mend(): void; close(): void }> {
  const open = new Set<Socket>()
  let isCut = false
  const way = createServer((near) => {
    if (isCut) return void near.destroy()
    const far = connect(journey.open.house.port, '127.0.0.1')
    for (const [one, other] of [
      [near, far],
      [far, near],
    ] as const) {
      open.add(one)
      one.pipe(other)
      one.on('error', () => other.destroy())
      one.on('close', () => (open.delete(one), other.destroy()))
    }
  })
  await new Promise<void>((resolve) => way.listen(0, '127.0.0.1', resolve))
  const cut = () => {
    isCut = true
    for (const socket of open) socket.destroy()
  }
  return {
    address: `http://127.0.0.1:${(way.address() as AddressInfo).port}`,
    cut,
    mend: () => (isCut = false),
    close: () => (cut(), way.close()),
  }
}
