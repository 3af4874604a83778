import { createHash } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { build, type Plugin, type Rollup } from 'vite'

const here = fileURLToPath(new URL('.', import.meta.url))

/** Screens that open and work without the site, each an app of its own, with the name that stands under its icon. */
const apps: Record<string, string> = {
  station: 'Station',
  run: 'Track',
  safety: 'Safety',
  briefing: 'Briefing',
  floor: 'Floor',
  'check-in': 'Check-in',
  'weigh-in': 'Weigh-in',
}
/** Kept as well: what is shown where another screen needs the server. */
const keptPages = [...Object.keys(apps), 'carried', 'paper', 'needs-server']

const icons = [
  { src: '/icons/icon.svg', sizes: 'any', type: 'image/svg+xml' },
  { src: '/icons/icon-192.png', sizes: '192x192', type: 'image/png' },
  { src: '/icons/icon-512.png', sizes: '512x512', type: 'image/png' },
  { src: '/icons/icon-maskable-512.png', sizes: '512x512', type: 'image/png', purpose: 'maskable' },
]
/** The deep green of the tokens, and its paper. */
const colours = { theme_color: '#12363d', background_color: '#f6f8f4' }

/** A manifest for each app, and the worker that keeps everything they are made of. Its list follows from the build itself. */
export const installableApps: Plugin = {
  name: 'installable-apps',
  apply: 'build',
  transformIndexHtml: {
    order: 'post',
    handler: (_html, { filename }) => {
      const screen = screenOf(filename)
      if (!(screen in apps)) return []
      const head = (tag: string, attrs: Record<string, string>) => ({ tag, attrs, injectTo: 'head' as const })
      return [
        head('link', { rel: 'manifest', href: `/${screen}.webmanifest` }),
        head('link', { rel: 'apple-touch-icon', href: '/icons/icon-192.png' }),
        head('meta', { name: 'theme-color', content: colours.theme_color }),
      ]
    },
  },
  generateBundle() {
    for (const [screen, name] of Object.entries(apps)) {
      const manifest = {
        id: `/${screen}`,
        name: `${name} · Musterbook`,
        short_name: name,
        start_url: `/${screen}`,
        scope: '/',
        display: 'standalone',
        ...colours,
        icons,
      }
      this.emitFile({ type: 'asset', fileName: `${screen}.webmanifest`, source: JSON.stringify(manifest) })
    }
  },
  async writeBundle({ dir }, bundle) {
    const kept = [
      ...keptPages.map((screen) => ({ url: `/${screen}`, revision: revisionOf(`${dir}/${screen}.html`) })),
      ...['favicon.svg', ...icons.map(({ src }) => src.slice(1)), ...Object.keys(apps).map((screen) => `${screen}.webmanifest`)].map(
        (path) => ({
          url: `/${path}`,
          revision: revisionOf(`${dir}/${path}`),
        }),
      ),
      ...[...partsOf(bundle)].sort().map((path) => ({ url: `/${path}`, revision: null })),
    ]
    await build({
      configFile: false,
      root: here,
      logLevel: 'warn',
      publicDir: false,
      define: { kept: JSON.stringify(kept), 'process.env.NODE_ENV': '"production"' },
      build: {
        outDir: dir!,
        emptyOutDir: false,
        target: 'es2023',
        lib: { entry: `${here}src/worker/worker.ts`, formats: ['iife'], name: 'musterbookWorker', fileName: () => 'service-worker.js' },
      },
    })
  },
}

const screenOf = (path: string): string => /([\w-]+)\.html$/.exec(path)?.[1] ?? ''
const revisionOf = (path: string): string => createHash('sha256').update(readFileSync(path)).digest('hex').slice(0, 16)

/** Scripts, styles and type that the kept pages load, now or later. */
function partsOf(bundle: Rollup.OutputBundle): Set<string> {
  const parts = new Set<string>()
  const take = (name: string) => {
    const chunk = bundle[name]
    if (parts.has(name) || chunk?.type !== 'chunk') return
    parts.add(name)
    for (const path of [...(chunk.viteMetadata?.importedCss ?? []), ...(chunk.viteMetadata?.importedAssets ?? [])]) parts.add(path)
    for (const other of [...chunk.imports, ...chunk.dynamicImports]) take(other)
  }
  for (const chunk of Object.values(bundle))
    if (chunk.type === 'chunk' && chunk.facadeModuleId && keptPages.includes(screenOf(chunk.facadeModuleId))) take(chunk.fileName)
  return parts
}
