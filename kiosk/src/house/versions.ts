import { signal, type ReadonlySignal } from '@preact/signals'

/** Between two acts a newer app takes over: nobody is signed on, nothing is under way here, and no hand has been on the glass for a while. */
const quietMs = 30_000
const lookMs = 10 * 60_000

/** Held, together with others, by each page of this device where somebody is in the middle of something. */
const busyLock = 'musterbook.busy'

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
  const sayBusy = busyHere()
  const look = () => {
    const isFree = isBetween() && isQuiet()
    sayBusy(!isFree)
    waiting.value = registration.waiting !== null
    if (!waiting.peek() || !isFree) return
    // A worker serves all pages of this device: each of them has to be between two acts.
    void navigator.locks.request(busyLock, { mode: 'exclusive', ifAvailable: true }, (free) => {
      if (free) registration.waiting?.postMessage('takeOver')
    })
  }
  look()
  setInterval(look, 5_000)
  setInterval(() => void registration.update().catch(() => undefined), lookMs)
}

/** Takes this page's share of the lock, and gives it back. A page that is closed gives it back by itself. */
function busyHere(): (isBusy: boolean) => void {
  let giveBack: (() => void) | undefined
  return (isBusy) => {
    if (isBusy === (giveBack !== undefined)) return
    giveBack?.()
    giveBack = undefined
    if (!isBusy) return
    const held = new Promise<void>((resolve) => (giveBack = resolve))
    void navigator.locks.request(busyLock, { mode: 'shared' }, () => held)
  }
}
