import { matchPrecache, precacheAndRoute } from 'workbox-precaching'

/** What a service worker stands in; the screens' own types know windows alone. */
interface Worker {
  skipWaiting(): Promise<void>
  clients: { claim(): Promise<void> }
  addEventListener(type: 'message', hear: (event: MessageEvent) => void): void
  addEventListener(type: 'activate', hear: (event: Event & { waitUntil(done: Promise<unknown>): void }) => void): void
  addEventListener(type: 'fetch', hear: (event: Event & { request: Request; respondWith(answer: Promise<Response>): void }) => void): void
}
const worker = self as unknown as Worker

/** Written in when the screens are built: everything that the floor's screens are made of. */
declare const kept: { url: string; revision: string | null }[]

// A page is the same whatever stands behind its question mark.
precacheAndRoute(kept, { ignoreURLParametersMatching: [/./], directoryIndex: '', cleanURLs: false })

// A new version waits until a screen says that nobody is in the middle of anything.
worker.addEventListener('message', ({ data }) => {
  if (data === 'takeOver') void worker.skipWaiting()
})
// The first time, the page that brought the worker is kept by it at once.
worker.addEventListener('activate', (event) => event.waitUntil(worker.clients.claim()))

// Every other page is the server's to show. Out of reach, it is said so.
worker.addEventListener('fetch', (event) => {
  if (event.request.mode !== 'navigate') return
  event.respondWith(fetch(event.request).catch(async () => (await matchPrecache('/needs-server')) ?? Response.error()))
})
