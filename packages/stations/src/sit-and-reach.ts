import { inSmallest, type ReadingUnit } from './units.ts'

/**
 * A reach on one box as it would read on another, in whole µm. Boxes put the soles at 0, 23 cm, 26 cm or 15 in (381 mm):
 * a number without its foot-line is no result.
 */
export const reachOnFootLine = (amount: number, unit: ReadingUnit, footLineMm: number, wantedFootLineMm: number): number =>
  pastSoles(amount, unit, footLineMm) + wantedFootLineMm * 1000

/** How far past the soles the fingertips came, in whole µm; negative when they did not reach them. */
export const pastSoles = (amount: number, unit: ReadingUnit, footLineMm: number): number => inSmallest(amount, unit) - footLineMm * 1000
