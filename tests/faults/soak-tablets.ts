import { type ChildProcess, spawn } from 'node:child_process'
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { chromium, type BrowserContext, type Page } from 'playwright-core'
import { build } from 'vite'
import type { HouseClock } from '../../ops/clock.ts'
import type { Floor } from '../../ops/demo/floor.ts'
import { started, type Spawned } from '../cluster/processes.ts'
import { openDay } from '../cluster/short-day.ts'
import { academyIn, floorOf, placesIn } from '../cluster/site.ts'
import { executablePath } from '../journeys/browser.ts'
import type { Kept } from '../../kiosk/src/house/outbox.ts'
import type { Findings } from './findings.ts'
import type { Told } from './history.ts'
import { freePort, until } from './nats-cluster.ts'
import { bodyOf, crew, judge, type Observation, observationsOfDay, oneOf } from './soak-script.ts'
import { TabletLine } from './tablet-line.ts'

const clock: HouseClock = { now: () => Date.now(), speed: 1, rehearsalOnly: false }
const browsers = 3
const savedBetweenBrowserKills = 75
const savedBetweenServerKills = 150
const minute = 60_000

/**
 * The same with the tablets' own app: twelve tablets in Chromium keep what they observe in their own IndexedDB by the app's own outbox, while their
 * lines are cut, their browsers killed, their clocks put wrong and the server ended without warning. What a tablet has once said it saved is in the
 * record in the end: all of it, once, unaltered.
 */
export async function soakTablets(observations: number, random: () => number, progress: (count: number) => void): Promise<Findings> {
  const folder = mkdtempSync(join(tmpdir(), 'tablets-'))
  const { data, keyFile } = placesIn(folder)
  const page = join(folder, 'page')
  await build({ root: fileURLToPath(new URL('tablet', import.meta.url)), logLevel: 'warn', build: { outDir: page, emptyOutDir: true } })
  const port = await freePort()
  const site = `http://127.0.0.1:${port}`
  const heard = new Map<string, Told>()
  const line = new TabletLine({ site, page, random, heard })
  let server: Spawned | undefined
  const start = async () => {
    server = started(['--port', String(port), '--no-screens', '--data', data, '--key', keyFile])
    await server.says(/stands at (\S+)/, 60_000)
  }
  const cases: TabletCase[] = []
  try {
    const { academy } = await academyIn({ folder, clock }, async () => null)
    await start()
    const dayIds: string[] = []
    for (let day = 0; day * observationsOfDay < observations; day++)
      dayIds.push(await openDay(site, academy, clock.now, `2027-05-${String(11 + day)}`))
    const floor = await floorOf({ ...academy, dayId: dayIds[0]! }, site)
    const linePort = await line.open()
    const script = new Map<string, Observation>()
    const run: Run = { floor, dayIds, line, linePort, random, script, jumps: 0 }
    for (let number = 0; number < browsers; number++) cases.push(new TabletCase(run, join(folder, `browser-${number}`)))
    const tablets = crew.map((_, index) => new SoakTablet(run, index, cases[index % browsers]!))
    await Promise.all(cases.map((one) => one.start()))

    const share = Math.ceil(observations / crew.length)
    const done = Promise.all(tablets.map((tablet) => tablet.work(share)))
    done.catch(() => {}) // Heard below, unless something else fails first.
    let ended = 0
    let kills = 0
    const isEnough = () => script.size >= observations && ended >= browsers
    for (let next = savedBetweenBrowserKills; next < observations && !isEnough(); next += savedBetweenBrowserKills) {
      await Promise.race([
        done,
        until(
          () => script.size >= next,
          300_000,
          () => `only ${script.size} of ${observations} observations were saved`,
        ),
      ])
      progress(script.size)
      ended++
      await oneOf(cases, random).endAndStart()
      if (Math.floor(next / savedBetweenServerKills) === kills) continue
      kills++
      await server!.kill()
      await start()
    }
    await done
    progress(script.size)
    await server!.stop()
    const { sent, cut, doubles, away } = line.counted
    const also = `${sent} sends, ${cut} lines cut, ${doubles} sent twice at once, ${away} times out of contact, ${ended} browsers killed, ${run.jumps} clock jumps, ${kills} server kills`
    return { ...(await judge({ heard, script: [...script.values()], faults: [] }, data)), also }
  } finally {
    await Promise.all(cases.map((one) => one.end()))
    line.close()
    await server?.kill()
    rmSync(folder, { recursive: true, force: true })
  }
}

interface Run {
  floor: Floor
  dayIds: readonly string[]
  line: TabletLine
  linePort: number
  random: () => number
  /** What the tablets said they had saved, by its command. */
  script: Map<string, Observation>
  jumps: number
}

/** One browser, in which some of the tablets live: killed, they are all killed. */
class TabletCase {
  readonly #run: Run
  readonly #folder: string
  readonly #tablets: SoakTablet[] = []
  #browser: ChildProcess | undefined
  #ready: Promise<void> = Promise.resolve()

  constructor(run: Run, folder: string) {
    this.#run = run
    this.#folder = folder
    mkdirSync(folder)
  }

  holds(tablet: SoakTablet): void {
    this.#tablets.push(tablet)
  }

  /** Resolves while the browser runs. */
  ready(): Promise<void> {
    return this.#ready
  }

  start(): Promise<void> {
    return (this.#ready = this.#start(3))
  }

  async #start(tries: number): Promise<void> {
    const context = await this.#launch().catch(() => undefined)
    if (context) for (const tablet of this.#tablets) await tablet.open(context)
    else if (tries > 1) await this.end().then(() => this.#start(tries - 1))
    else throw new Error('Chromium did not start')
  }

  /** Rejects where Chromium ends at once, or does not answer: on a machine with much to do that happens. */
  async #launch(): Promise<BrowserContext> {
    const words = [
      '--headless=new',
      '--no-sandbox',
      '--disable-gpu',
      '--no-first-run',
      '--disable-background-networking',
      '--remote-debugging-port=0',
    ]
    // Tablets that lie side by side in one browser are all in somebody's hands.
    const hands = ['--disable-background-timer-throttling', '--disable-renderer-backgrounding', '--disable-backgrounding-occluded-windows']
    const browser = spawn(executablePath, [...words, ...hands, `--user-data-dir=${this.#folder}`], {
      detached: true,
      stdio: ['ignore', 'ignore', 'pipe'],
    })
    this.#browser = browser
    const address = await new Promise<string>((resolve, reject) => {
      let said = ''
      browser.stderr.on('data', (part: Buffer) => {
        said += part.toString()
        const [, found] = /listening on (ws:\S+)/.exec(said) ?? []
        if (found) resolve(found)
      })
      browser.once('close', () => reject(new Error(`Chromium ended: ${said}`)))
    })
    const [context] = (await chromium.connectOverCDP(address)).contexts()
    return context!
  }

  /** The hard way, out of contact and with a backlog; it is started again out of contact, and comes back later. */
  async endAndStart(): Promise<void> {
    const { line, random } = this.#run
    for (const { host } of this.#tablets) line.leave(host)
    await pause(random() * 1_000)
    await this.end()
    await pause(random() * 1_000)
    await this.start()
    for (const { host } of this.#tablets) line.comeBack(host)
  }

  async end(): Promise<void> {
    const browser = this.#browser
    if (!browser || browser.exitCode !== null || browser.signalCode !== null) return
    const closed = new Promise((resolve) => browser.once('close', resolve))
    process.kill(-browser.pid!, 'SIGKILL')
    await closed
  }
}

class SoakTablet {
  readonly #run: Run
  readonly #crew: (typeof crew)[number]
  readonly #case: TabletCase
  readonly host: string
  readonly #address: string
  readonly #dayId: string
  #page: Page | undefined
  #made = 0
  #saved = 0

  constructor(run: Run, index: number, lies: TabletCase) {
    this.#run = run
    this.#crew = crew[index]!
    this.#case = lies
    this.host = `tablet-${index + 1}.localhost`
    this.#dayId = run.dayIds[index % run.dayIds.length]!
    const ahead = Math.floor((run.random() - 0.5) * 20 * minute)
    this.#address = `http://${this.host}:${run.linePort}/index.html?day=${encodeURIComponent(this.#dayId)}&ahead=${ahead}`
    lies.holds(this)
  }

  async open(context: BrowserContext): Promise<void> {
    await this.#signOn(context)
    const page = await context.newPage()
    await page.exposeFunction('saved', (kept: Kept) => this.#hear(kept))
    await page.goto(this.#address)
    this.#page = page
  }

  async #signOn(context: BrowserContext): Promise<void> {
    const cookies = this.#run.floor.client(this.#crew.device).cookieHeader().split('; ')
    await context.addCookies(
      cookies.map((cookie) => {
        const cut = cookie.indexOf('=')
        return { name: cookie.slice(0, cut), value: cookie.slice(cut + 1), url: `http://${this.host}:${this.#run.linePort}` }
      }),
    )
  }

  #hear({ item }: Kept): void {
    if (item.kind !== 'act' || this.#run.script.has(item.envelope.commandId)) return
    this.#run.script.set(item.envelope.commandId, item)
    this.#saved++
  }

  /** Observes until it has saved so many, and stays until nothing is unsent. */
  async work(observations: number): Promise<void> {
    const { random, line } = this.#run
    while (this.#saved < observations) {
      const isAway = random() < 0.01
      if (isAway) line.leave(this.host)
      for (let count = isAway ? 12 : 3; count > 0 && this.#saved < observations; count--) await this.#observe()
      if (isAway) setTimeout(() => line.comeBack(this.host), random() * 3_000)
      if (random() < 0.01) {
        this.#run.jumps++
        await this.#at((page) => page.evaluate((by) => tablet.jump(by), Math.floor((random() - 0.5) * 120 * minute)))
      }
    }
    for (;;) {
      if ((await this.#at((page) => page.evaluate(() => tablet.unsent()))) === 0) return
      await pause(200)
    }
  }

  async #observe(): Promise<void> {
    const { random, floor } = this.#run
    const act = oneOf(this.#crew.observes, random)
    const id = `${this.host.split('.')[0]}-${++this.#made}`
    const body = bodyOf(act, id, floor.notes.students, random)
    await this.#at((page) => page.evaluate(([told, what]) => tablet.tell(told, what), [act, body] as const))
  }

  /** Does this at the page. undefined: the browser was killed meanwhile; it runs again. */
  async #at<Result>(what: (page: Page) => Promise<Result>): Promise<Result | undefined> {
    await this.#case.ready()
    const page = this.#page!
    try {
      await this.#stands(page)
      return await what(page)
    } catch (error) {
      if (!page.isClosed()) throw error
      return undefined
    }
  }

  /** Whoever worked here signs on again where the site forgot them. */
  async #stands(page: Page): Promise<void> {
    for (let tries = 0; !(await page.evaluate(() => globalThis.tablet?.stands() ?? false)); tries++) {
      if (tries % 50 === 49) {
        await this.#run.floor.relieve(this.#crew.device, this.#crew.person).catch(() => {})
        await this.#signOn(page.context())
      }
      if (tries > 600) throw new Error(`${this.host} does not stand`)
      await pause(100)
    }
  }
}

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))
