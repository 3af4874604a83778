import type { Planted } from './planted.ts'

/** The bug that is planted now, if any. */
export const bent: { now: Planted | null } = { now: null }
