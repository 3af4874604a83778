import type { VNode } from 'preact'

/** A part in a named state, with invented people. Shown on the parts page and rendered in tests. */
export type Examples = Record<string, () => VNode>
