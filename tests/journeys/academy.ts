import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { DemoStaff } from '@musterbook/office/demo-academy'
import type { ActName } from '@musterbook/vocabulary/act-table'
import type { Browser, Page } from 'playwright-core'
import { demoMorning, openAcademy, type OpenAcademy } from '../../ops/academy.ts'
import { composeHouse } from '../../ops/house.ts'
import type { HouseClock } from '../../ops/clock.ts'
import type { DeviceClient, Heard } from '../../ops/device-client.ts'
import { builtScreens } from '../../ops/screens.ts'
import { newDevice, openBrowser, type Device } from './browser.ts'

/** The academy on a test day, a browser, and everybody who works there: what every journey starts from. */
export interface Journey {
  open: OpenAcademy
  browser: Browser
  /** The site's clock. It runs in real time and may be put forward. */
  clock: { now(): number; forward(milliseconds: number): Promise<void> }
  /** A browser that is one of the academy's devices, enrolled, somebody signed on, at a path. */
  openScreen(device: string, person: DemoStaff | null, path: string, size?: ScreenSize): Promise<Device>
  /** One of the academy's devices without a browser: for what others do meanwhile. */
  client(device: string, person?: DemoStaff | null): Promise<DeviceClient>
  /** Tells the day from there and expects it to be recorded, unless `expect` says another status. */
  tell(device: string, person: DemoStaff | null, act: ActName, body: object, more?: TellMore): Promise<Heard>
  view<View>(name: string, key?: string): Promise<View>
  studentId(bib: string): string
  /** Checks in, gives the bib, clears, weighs, warms up: everything that a station asks, up to `to`. */
  bring(bibs: readonly string[], to?: Step, massGrams?: number): Promise<void>
  /** No hand touches any screen for as long as it takes to lock. */
  leaveAlone(): void
  /** The server is gone: every line to it breaks off. */
  stopServer(): Promise<void>
  /** It stands again on the same data and port, and knows nobody's session any more. */
  startServer(): Promise<void>
  close(): Promise<void>
}

/** The way of a student to their first station, in order. */
const steps = ['checkedIn', 'bib', 'cleared', 'weighed', 'warmedUp'] as const
type Step = (typeof steps)[number]

interface TellMore {
  expect?: number
  at?: number
  countersign?: DemoStaff
}

/** The reference tablet, unless a screen stands elsewhere. */
export const tablet = { width: 1280, height: 800 }
export type ScreenSize = { width: number; height: number; touch?: boolean; installed?: boolean; folder?: string }

interface Options {
  startsAt?: number
  lockAfterMs?: number
  /** A folder of screens of this journey's own. */
  screens?: string
  beforeOpening?: Parameters<typeof openAcademy>[1]
}

/** Built once and served as it is; a folder of screens built elsewhere may be named in MUSTERBOOK_SCREENS. */
export const screensBuilt = async () => process.env.MUSTERBOOK_SCREENS ?? (await builtScreens(() => {}))

export async function openJourney({
  startsAt = demoMorning,
  lockAfterMs = 60 * 60_000,
  screens,
  beforeOpening,
}: Options = {}): Promise<Journey> {
  const folder = mkdtempSync(join(tmpdir(), 'musterbook-journey-'))
  const clock = movableClock(startsAt)
  let untouchedMs = 0
  const options = {
    data: join(folder, 'data'),
    keyFile: join(folder, 'keys', 'medical.key'),
    port: 0,
    host: '127.0.0.1',
    speed: 1,
    clock,
    pinCost: 16,
    lockAfterMs,
    handsClock: () => performance.now() + untouchedMs,
    screens: screens ?? (await screensBuilt()),
  }
  const open = await openAcademy(options, beforeOpening)
  const browser = await openBrowser()
  const pages = new Set<Page>()
  const clients = new Map<string, { client: DeviceClient; person: DemoStaff | null }>([
    ['Office desk', { client: open.desk, person: 'ines' }],
  ])

  const client = async (device: string, person: DemoStaff | null = null) => {
    const known = clients.get(device) ?? { client: await open.device(device), person: null }
    clients.set(device, known)
    if (person && known.person !== person) {
      const { personId, pin } = open.academy.staff[person]
      await known.client.signOn(personId, pin)
      known.person = person
    }
    return known.client
  }

  const tell: Journey['tell'] = async (device, person, act, body, { expect = 201, at, countersign } = {}) => {
    const from = await client(device, person)
    const second = countersign && open.academy.staff[countersign]
    const heard = await from.tell(open.dayId, act, body, {
      envelope: from.stamp(at ?? clock.now()),
      ...(second && { countersign: { personId: second.personId, pin: second.pin } }),
    })
    if (heard.status !== expect) throw new Error(`${device}: ${act} answered ${heard.status} ${JSON.stringify(heard.body).slice(0, 500)}`)
    return heard
  }

  const studentId = (bib: string) => {
    const found = open.academy.students.find((student) => student.bib === bib)
    if (!found) throw new Error(`no student wears ${bib}`)
    return found.studentId
  }

  const bringOne = async (bib: string, to: Step, massGrams: number) => {
    const id = studentId(bib)
    const done: Record<Step, () => Promise<unknown>> = {
      checkedIn: () => tell('Kiosk', null, 'checkIn', { studentId: id, secondIdentifier: 'birthDate' }),
      bib: () => tell('Greeter', 'sanne', 'bindBib', { studentId: id, bib }),
      cleared: () =>
        tell('Medical 1', 'petra', 'recordClearance', {
          clearanceId: `clearance-${bib}`,
          studentId: id,
          status: 'cleared',
          limits: [],
          supersedes: null,
        }),
      weighed: () =>
        tell('Medical 1', 'petra', 'weigh', {
          studentId: id,
          mass: { amount: massGrams, unit: 'grams', resolution: 50, method: 'scale' },
          scaleId: 'S-1',
          keptUnusual: false,
        }),
      warmedUp: () => tell('Greeter', 'sanne', 'confirmWarmUp', { studentIds: [id] }),
    }
    for (const step of steps.slice(0, steps.indexOf(to) + 1)) await done[step]()
  }

  return {
    open,
    browser,
    client,
    tell,
    studentId,
    clock: {
      now: clock.now,
      async forward(milliseconds) {
        clock.forward(milliseconds)
        await Promise.all([...pages].map((page) => catchUp(page, clock.now)))
      },
    },
    async view<View>(name: string, key = 'all') {
      const heard = await (await client('Office desk', 'ines')).get(`/api/days/${open.dayId}/views/${name}/${key}`)
      return heard.body['body'] as View
    },
    async openScreen(device, person, path, size = tablet) {
      const enrolled = await client(device, person)
      const made = await newDevice(browser, { ...size, baseURL: open.house.address })
      await made.context.addCookies(cookiesOf(enrolled, open.house.address))
      pages.add(made.page)
      made.page.once('close', () => pages.delete(made.page))
      await made.page.goto(path)
      return made
    },
    async bring(bibs, to = 'warmedUp', massGrams = 70_000) {
      for (const bib of bibs) await bringOne(bib, to, massGrams)
    },
    leaveAlone() {
      untouchedMs += lockAfterMs
      for (const known of clients.values()) known.person = null
    },
    stopServer: () => open.house.close(),
    async startServer() {
      open.house = await composeHouse({ ...options, port: open.house.port })
      for (const known of clients.values()) known.person = null
      await open.desk.signOn(open.academy.staff.ines.personId, open.academy.staff.ines.pin)
      clients.get('Office desk')!.person = 'ines'
    },
    async close() {
      await browser.close()
      await open.house.close()
      rmSync(folder, { recursive: true, force: true })
    },
  }
}

function movableClock(startsAt: number): HouseClock & { forward(milliseconds: number): void } {
  const begun = performance.now()
  let ahead = 0
  return {
    now: () => Math.floor(startsAt + ahead + performance.now() - begun),
    forward: (milliseconds) => (ahead += milliseconds),
    speed: 1,
    rehearsalOnly: true,
  }
}

/** A new badge for somebody; the one before it is good for nothing. */
export async function badgeOf(journey: Journey, person: DemoStaff): Promise<string> {
  const desk = await journey.client('Office desk', 'ines')
  const { personId } = journey.open.academy.staff[person]
  const made = await desk.post('/api/office/badges', { envelope: desk.stamp(), body: { personIds: [personId] } })
  if (made.status !== 201) throw new Error(`no badge for ${person}: ${made.status} ${JSON.stringify(made.body)}`)
  const people = (await desk.get('/api/office/people')).body as unknown as { personId: string; badge: string }[]
  return people.find((one) => one.personId === personId)!.badge
}

export const cookiesOf = (client: DeviceClient, url: string) =>
  client
    .cookieHeader()
    .split('; ')
    .filter(Boolean)
    .map((pair) => {
      const cut = pair.indexOf('=')
      return { name: pair.slice(0, cut), value: pair.slice(cut + 1), url, httpOnly: true, sameSite: 'Strict' as const }
    })

/** A tablet asks for the time when it wakes: put forward, the site is that far from what the tablet knew. */
async function catchUp(page: Page, now: () => number): Promise<void> {
  await page.evaluate(() => document.dispatchEvent(new Event('visibilitychange')))
  const shown = () => page.evaluate(() => Date.parse(document.querySelector('time.frame-clock')?.getAttribute('datetime') ?? ''))
  for (let tries = 0; tries < 50; tries++) {
    if (Math.abs((await shown()) - now()) < 5_000) return
    await new Promise((resolve) => setTimeout(resolve, 100))
  }
  throw new Error('a screen did not learn the new time')
}
