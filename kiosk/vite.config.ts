import { readdirSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vite'

const here = fileURLToPath(new URL('.', import.meta.url))

/** One entry page a screen: every page in this folder is built. */
const pages = readdirSync(here)
  .filter((name) => name.endsWith('.html'))
  .map((name) => here + name)

export default defineConfig({
  root: here,
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
