import type { Quantities } from './check.ts'

/** The quantities of the heat checks, each computed with the public functions of packages/heat. */
export const quantities: Quantities = {}
