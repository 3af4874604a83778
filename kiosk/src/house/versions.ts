/** Between two acts a newer app takes over: nobody is signed on, and no hand has been on the glass for a while. */
const quietMs = 30_000
const lookMs = 10 * 60_000

/**
 * Makes the screens open without the site. A new version is fetched whole and waits: it takes over as a page opens, or
 * once `isBetween` says that nobody is in the middle of anything.
 */
export async function followVersions(isBetween: () => boolean): Promise<void> {
  if (!('serviceWorker' in navigator)) return
  const workers = navigator.serviceWorker
  const hadOne = workers.controller !== null
  let touchedAt = -Infinity
  for (const sign of ['pointerdown', 'keydown'] as const) document.addEventListener(sign, () => (touchedAt = performance.now()))
  const isQuiet = () => performance.now() - touchedAt > quietMs && !document.querySelector('dialog[open]')

  const registration = await workers.register('/service-worker.js').catch(() => undefined)
  if (!registration) return
  workers.addEventListener('controllerchange', () => hadOne && location.reload())
  const takeOver = () => registration.waiting?.postMessage('takeOver')
  if (touchedAt === -Infinity) takeOver()
  setInterval(() => {
    if (registration.waiting && isBetween() && isQuiet()) takeOver()
  }, 5_000)
  setInterval(() => void registration.update().catch(() => undefined), lookMs)
}
