import type { Quantities } from './check.ts'

/** The quantities of the fitness checks, each computed with the public functions of packages/scoring and packages/stations. */
export const quantities: Quantities = {}
