import { readFile } from 'node:fs/promises'
import { extname, join, normalize, sep } from 'node:path'
import { gzipSync } from 'node:zlib'
import { Hono } from 'hono'
import type { HouseContext, HouseEnv } from './http/route.ts'
import { screens, startPage, type Screen } from './start-page.tsx'

export interface StaticFile {
  bytes: Uint8Array<ArrayBuffer>
  /** Smaller, for whoever takes it; null where it is small already. */
  gzipped: Uint8Array<ArrayBuffer> | null
  mediaType: string
  /** Its name says what is in it, so it never changes. */
  forEver: boolean
}
/** undefined: there is no such file. `path` has no leading slash. */
export type StaticFiles = (path: string) => Promise<StaticFile | undefined>

const mediaTypes: Record<string, string> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json',
  '.webmanifest': 'application/manifest+json',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.webp': 'image/webp',
  '.ico': 'image/x-icon',
  '.woff2': 'font/woff2',
  '.wav': 'audio/wav',
  '.mp3': 'audio/mpeg',
  '.txt': 'text/plain; charset=utf-8',
}

/** The screens as they lie in a folder, read once and kept. */
export function filesIn(folder: string): StaticFiles {
  const kept = new Map<string, Promise<StaticFile | undefined>>()

  const read = async (path: string): Promise<StaticFile | undefined> => {
    const full = normalize(join(folder, path))
    const mediaType = mediaTypes[extname(full)]
    if (!full.startsWith(folder.endsWith(sep) ? folder : folder + sep) || !mediaType || path.includes('\0')) return undefined
    try {
      const bytes = new Uint8Array(await readFile(full))
      const small = bytes.length < 1024 || !/text|json|svg|javascript/.test(mediaType)
      return {
        bytes,
        gzipped: small ? null : new Uint8Array(gzipSync(bytes, { level: 9 })),
        mediaType,
        forEver: path.startsWith('assets/'),
      }
    } catch {
      return undefined
    }
  }

  return (path) => {
    const known = kept.get(path)
    if (known) return known
    const found = read(path)
    kept.set(path, found)
    // What is not there is not remembered: an address is anybody's to invent.
    void found.then((file) => file ?? kept.delete(path))
    return found
  }
}

interface Parts {
  files: StaticFiles
  rehearsalOnly: boolean
  setUpNeeded: () => Promise<boolean>
  /** May turn somebody away before a page is shown. */
  turnedAway: (c: HouseContext, screen: Screen) => Promise<Response | undefined>
}

/** Kept by a tablet and shown where a screen needs the server and it is not reached. */
const needsServer = 'needs-server'

/** Serves the screens: one entry page each, and a page that leads to them. */
export function pages({ files, rehearsalOnly, setUpNeeded, turnedAway }: Parts): Hono<HouseEnv> {
  const app = new Hono<HouseEnv>()
  app.get('/', async (c) => c.html(startPage({ setUpNeeded: await setUpNeeded(), rehearsal: rehearsalOnly })))
  for (const screen of Object.keys(screens) as Screen[])
    app.get(`/${screen}`, async (c) => (await turnedAway(c, screen)) ?? serve(c, files, `${screen}.html`))
  app.get(`/${needsServer}`, (c) => serve(c, files, `${needsServer}.html`))
  app.get('*', async (c, next) => {
    const path = c.req.path.slice(1)
    // Pages are asked for by their names, so that none is shown without being asked whether it may.
    if (path.endsWith('.html') || /^(api|sheets|health)(\/|$)/.test(path)) return next()
    return (await files(path)) ? serve(c, files, path) : next()
  })
  return app
}

async function serve(c: HouseContext, files: StaticFiles, path: string): Promise<Response> {
  const file = await files(path)
  if (!file) return c.notFound()
  const gzip = file.gzipped && /\bgzip\b/.test(c.req.header('accept-encoding') ?? '')
  return c.body(gzip ? file.gzipped! : file.bytes, 200, {
    'content-type': file.mediaType,
    'cache-control': file.forEver ? 'public, max-age=31536000, immutable' : 'no-cache',
    vary: 'accept-encoding',
    ...(gzip && { 'content-encoding': 'gzip' }),
  })
}
