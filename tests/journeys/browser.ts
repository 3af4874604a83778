import axeCore from 'axe-core'
import { existsSync } from 'node:fs'
import { chromium, type Browser, type BrowserContext, type Page } from 'playwright-core'

/** Where Chromium is: a setting names it, else Debian's own. */
export const executablePath = process.env.MUSTERBOOK_CHROMIUM ?? '/usr/bin/chromium'

/** Starts the one browser of a journey; each device in it is its own context. The caller closes it. */
export const openBrowser = async (more: readonly string[] = []): Promise<Browser> => chromium.launch(launching(more))

function launching(more: readonly string[] = []) {
  if (!existsSync(executablePath))
    throw new Error(`No Chromium at ${executablePath}. On Debian: apt-get install chromium. Elsewhere, name it in MUSTERBOOK_CHROMIUM.`)
  return {
    executablePath,
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      '--no-first-run',
      // As on a tablet: no page sounds before it was touched.
      '--autoplay-policy=document-user-activation-required',
      ...more,
    ],
  }
}

export interface Device {
  context: BrowserContext
  page: Page
  /** What the page said that it should not have: uncaught errors, error lines of the console, breaches of the content security policy. */
  complaints: string[]
}

export interface DeviceShape {
  width: number
  height: number
  /** Touch is the default: that is what stands on the floor. */
  touch?: boolean
  locale?: string
  baseURL?: string
  /** Keeps its screens for a day without the site. Elsewhere that is left out: a test that looks at requests sees them all. */
  installed?: boolean
  /** A browser of its own that keeps what it stores in this folder: closed and opened again it is the same tablet. */
  folder?: string
}

/** One tablet, kiosk or board: its own cookies, its own storage, its own clock of sequence numbers. */
export async function newDevice(browser: Browser, shape: DeviceShape): Promise<Device> {
  const options = {
    viewport: { width: shape.width, height: shape.height },
    hasTouch: shape.touch ?? true,
    locale: shape.locale ?? 'en-GB',
    timezoneId: 'UTC',
    reducedMotion: 'reduce' as const,
    serviceWorkers: shape.installed ? ('allow' as const) : ('block' as const),
    ...(shape.baseURL !== undefined && { baseURL: shape.baseURL }),
  }
  const context = shape.folder
    ? await chromium.launchPersistentContext(shape.folder, { ...launching(), ...options })
    : await browser.newContext(options)
  const page = context.pages()[0] ?? (await context.newPage())
  const complaints: string[] = []
  page.on('pageerror', (error) => complaints.push(String(error)))
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text())
  })
  return { context, page, complaints }
}

const axeSource = axeCore.source

/** What axe finds on the page as it stands, one line a finding; empty when it finds nothing. `but` names rules that this page may not keep. */
export async function axe(page: Page, but: readonly string[] = []): Promise<string[]> {
  // Evaluated, not added as a script: our content security policy turns away any script that is not ours.
  if (!(await page.evaluate('typeof axe === "object"'))) await page.evaluate(axeSource)
  return page.evaluate(async (but) => {
    const { axe } = globalThis as unknown as { axe: { run(options: object): Promise<AxeAnswer> } }
    const answer = await axe.run({
      resultTypes: ['violations'],
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
      rules: Object.fromEntries(but.map((rule) => [rule, { enabled: false }])),
    })
    return answer.violations.flatMap(({ id, help, nodes }) =>
      nodes.map((node) => `${id}: ${help}: ${node.target.join(' ')}: ${node.html.slice(0, 200)}`),
    )
  }, but)
}

interface AxeAnswer {
  violations: { id: string; help: string; nodes: { html: string; target: string[] }[] }[]
}

/** Counts what the page would sound and how often it would shake. */
export function listensIn(): void {
  const heard = { tones: 0, buzzes: 0 }
  Object.assign(globalThis, { heard })
  const start = OscillatorNode.prototype.start
  OscillatorNode.prototype.start = function (...when) {
    heard.tones++
    return start.apply(this, when)
  }
  const vibrate = navigator.vibrate.bind(navigator)
  navigator.vibrate = (pattern) => {
    if (pattern !== 0) heard.buzzes++
    return vibrate(pattern as VibratePattern)
  }
}
