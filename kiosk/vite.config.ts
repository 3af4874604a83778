import { readdirSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { build, defineConfig, type Plugin } from 'vite'
import { installableApps } from './worker-plugin.ts'

const here = fileURLToPath(new URL('.', import.meta.url))

/** One entry page a screen: every page in this folder is built. */
const pages = readdirSync(here)
  .filter((name) => name.endsWith('.html'))
  .map((name) => here + name)

/** The viewer of a student's bundle, as one script that a file can hold: it is opened from a disk, where no module is loaded. */
const bundleViewer: Plugin = {
  name: 'bundle-viewer',
  apply: 'build',
  async writeBundle({ dir }) {
    await build({
      configFile: false,
      root: here,
      logLevel: 'warn',
      publicDir: false,
      build: {
        outDir: `${dir}/bundle`,
        emptyOutDir: true,
        target: 'es2023',
        lib: { entry: `${here}src/bundle/main.ts`, formats: ['iife'], name: 'musterbookBundle', fileName: () => 'viewer.js' },
      },
    })
  },
}

export default defineConfig({
  root: here,
  plugins: [bundleViewer, installableApps],
  // Nothing inline: the content security policy lets in neither inlined scripts nor styles nor data addresses of fonts.
  build: {
    outDir: 'dist',
    emptyOutDir: true,
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    target: 'es2023',
    rolldownOptions: { input: pages },
  },
})
