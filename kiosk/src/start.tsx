import { render, type VNode } from 'preact'
import { wearKept } from './style/theme.ts'
import '@fontsource-variable/atkinson-hyperlegible-next/wght.css'
import '@fontsource-variable/atkinson-hyperlegible-mono/wght.css'
import './style/style.css'

/** Puts a screen on its page: the theme of this device first, so that nothing flashes. */
export function show(screen: VNode): void {
  wearKept()
  const root = document.getElementById('screen')
  if (!root) throw new Error('The page has no #screen.')
  render(screen, root)
}
