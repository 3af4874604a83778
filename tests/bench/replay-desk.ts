import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { CDPSession, Page } from 'playwright-core'
import { openAcademy } from '../../ops/academy.ts'
import { builtScreens } from '../../ops/screens.ts'
import { newDevice, openBrowser } from '../journeys/browser.ts'
import type { Figure } from './figures.ts'
import type { Result } from './measure.ts'
import { fillDay } from './replay-day.ts'

/** A test day of one academy, and one that no academy has. */
const usualDay = 2_700
const largeDay = 100_000
const slowedBy = 4
const steps = 60
const median = (values: readonly number[]): number => [...values].sort((one, other) => one - other)[Math.floor(values.length / 2)]!

interface Desk {
  page: Page
  slow: CDPSession
  path: string
  close(): Promise<void>
}

/** The supervisor's desk over a day of so many events, in a browser slowed fourfold. */
async function deskOver(events: number): Promise<Desk> {
  const folder = mkdtempSync(join(tmpdir(), 'bench-'))
  const open = await openAcademy({
    data: join(folder, 'data'),
    keyFile: join(folder, 'keys', 'site.key'),
    speed: 1,
    port: 0,
    host: '127.0.0.1',
    lockAfterMs: 3_600_000,
    pinCost: 2 ** 10,
    screens: await builtScreens((line) => process.stderr.write(`${line}\n`)),
  })
  await fillDay(open, events)
  const client = await open.device('Safety', 'tomas')
  const browser = await openBrowser()
  const { page, context } = await newDevice(browser, { width: 1280, height: 800, touch: false, baseURL: open.house.address })
  await context.addCookies(
    client
      .cookieHeader()
      .split('; ')
      .map((pair) => {
        const [name = '', ...value] = pair.split('=')
        return { name, value: value.join('='), url: open.house.address }
      }),
  )
  // The views of the day have read it too: what is measured is the desk alone.
  for (let version = 0; version < (await open.house.ledger.head(`day/${open.dayId}`)).version;) {
    const heard = await client.get(`/api/days/${open.dayId}/views/board/all`)
    version = Number(heard.body['version'])
    await new Promise((resolve) => setTimeout(resolve, 200))
  }
  const slow = await context.newCDPSession(page)
  await slow.send('Emulation.setCPUThrottlingRate', { rate: slowedBy })
  return {
    page,
    slow,
    path: '/replay#part=moment',
    async close() {
      await browser.close()
      await open.house.close()
      rmSync(folder, { recursive: true, force: true })
    },
  }
}

/** From the address to the day standing at its last entry. */
async function openingMs({ page, path }: Desk): Promise<number> {
  await page.goto('about:blank')
  const begun = performance.now()
  await page.goto(path)
  await page.getByRole('slider').waitFor({ timeout: 120_000 })
  return performance.now() - begun
}

/** Each from the touch until the next picture has been drawn, as the page itself tells it. */
const steppedMs = (page: Page, positions: readonly number[], restMs = 0): Promise<number[]> =>
  page.evaluate(
    async ({ positions, restMs }) => {
      const slider = document.querySelector<HTMLInputElement>('input[type=range]')!
      const times: number[] = []
      for (const position of positions) {
        const begun = performance.now()
        slider.value = String(position)
        slider.dispatchEvent(new Event('input', { bubbles: true }))
        await new Promise((resolve) => requestAnimationFrame(() => setTimeout(resolve)))
        times.push(performance.now() - begun)
        if (restMs > 0) await new Promise((resolve) => setTimeout(resolve, restMs))
      }
      return times
    },
    { positions, restMs },
  )

const lastOf = async (page: Page): Promise<number> => Number(await page.getByRole('slider').getAttribute('max'))

/** One by one from the middle of the day, and jumps all over it. */
function waysThrough(last: number): { one: string; positions: number[] }[] {
  const from = Math.floor(last / 2)
  return [
    { one: 'step on', positions: Array.from({ length: steps }, (_, at) => from + at) },
    { one: 'step back', positions: Array.from({ length: steps }, (_, at) => from + steps - at) },
    { one: 'jump', positions: Array.from({ length: steps }, (_, at) => 1 + ((at * 48_271) % (last - 1))) },
  ]
}

export async function replayOpen(progress: (what: string) => void): Promise<Result> {
  const desk = await deskOver(usualDay)
  try {
    const opened: number[] = []
    for (let round = 0; round < 7; round++) {
      opened.push(await openingMs(desk))
      progress(`round ${round + 1} of 7`)
    }
    const ours = median(opened) / 1000
    const slowest = Math.max(...opened) / 1000
    return {
      name: 'replayOpen',
      what: `open a day of ${usualDay} events in Chromium slowed fourfold (slowest ${slowest.toFixed(2)} s)`,
      against: 'the aim itself',
      unit: 's',
      ours,
      raw: 3,
      ratio: slowest,
      ratios: opened.map((one) => one / 1000),
      aim: 3,
      better: 'lower',
      holds: slowest <= 3,
    }
  } finally {
    await desk.close()
  }
}

export async function replayStep(progress: (what: string) => void): Promise<Result> {
  const desk = await deskOver(usualDay)
  try {
    await openingMs(desk)
    const { page } = desk
    const taken: { one: string; times: number[] }[] = []
    for (const { one, positions } of waysThrough(await lastOf(page))) {
      taken.push({ one, times: await steppedMs(page, positions) })
      progress(one)
    }
    const rested = await steppedMs(page, waysThrough(await lastOf(page))[2]!.positions.slice(0, 10), 600)
    const all = taken.flatMap(({ times }) => times).concat(rested)
    const slowest = Math.max(...all)
    const each = taken.map(({ one, times }) => `${one} ${Math.round(median(times))}, slowest ${Math.round(Math.max(...times))}`).join('; ')
    return {
      name: 'replayStep',
      what: `a step in a day of ${usualDay} events in Chromium slowed fourfold (median ms: ${each}; after a rest ${Math.round(Math.max(...rested))})`,
      against: 'the aim itself',
      unit: 'ms',
      ours: median(all),
      raw: 100,
      ratio: slowest,
      ratios: taken.map(({ times }) => Math.max(...times)),
      aim: 100,
      better: 'lower',
      holds: slowest <= 100,
    }
  } finally {
    await desk.close()
  }
}

/** A day larger than any still opens and is walked through. */
export async function largeReplay(progress: (what: string) => void): Promise<Figure[]> {
  const desk = await deskOver(largeDay)
  try {
    progress('opening')
    const openMs = await openingMs(desk)
    const ways = waysThrough(await lastOf(desk.page))
    const figures: Figure[] = [{ what: `open a day of ${largeDay} events at the desk, slowed fourfold`, value: openMs / 1000, unit: 's' }]
    for (const { one, positions } of ways) {
      const times = await steppedMs(desk.page, positions)
      figures.push(
        { what: `${one} in it, median`, value: median(times), unit: 'ms' },
        { what: `${one} in it, slowest`, value: Math.max(...times), unit: 'ms' },
      )
      progress(one)
    }
    return figures
  } finally {
    await desk.close()
  }
}
