import { signal, type ReadonlySignal } from '@preact/signals'

/** Between two acts a newer app takes over: nobody is signed on, nothing is under way here, and no hand has been on the glass for a while. */
const quietMs = 30_000
const lookMs = 10 * 60_000

const waiting = signal(false)
/** A newer app lies here whole and waits for a quiet moment. */
export const newVersionWaits: ReadonlySignal<boolean> = waiting

/** Makes the screens open without the site. A new version is fetched whole and waits until `isBetween` says that nobody is in the middle of anything. */
export async function followVersions(isBetween: () => boolean): Promise<void> {
  if (!('serviceWorker' in navigator)) return
  const workers = navigator.serviceWorker
  let hadOne = workers.controller !== null
  let touchedAt = -Infinity
  for (const sign of ['pointerdown', 'keydown'] as const) document.addEventListener(sign, () => (touchedAt = performance.now()))
  const isQuiet = () => performance.now() - touchedAt > quietMs && !document.querySelector('dialog[open], [data-under-way]')

  const registration = await workers.register('/service-worker.js').catch(() => undefined)
  if (!registration) return
  // The first worker keeps the page that brought it; each later one brings another page.
  workers.addEventListener('controllerchange', () => {
    if (hadOne) location.reload()
    hadOne = true
  })
  setInterval(() => {
    waiting.value = registration.waiting !== null
    if (waiting.peek() && isBetween() && isQuiet()) registration.waiting?.postMessage('takeOver')
  }, 5_000)
  setInterval(() => void registration.update().catch(() => undefined), lookMs)
}
