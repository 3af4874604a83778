import type { Bound, HeatBand, HeatTable, Population } from './policies.ts'
import type { Temperature } from './temperature.ts'
import { tenthsOf } from './wbgt.ts'

export interface Classified {
  readonly band: HeatBand
  /** Tenths of the table's unit: what was looked up. */
  readonly tenths: number
  /** The source leaves this value to no band; the next hotter one governs. Shown to whoever reads the board. */
  readonly inHole: boolean
}

/** The band of a WBGT: converted once into the table's unit, rounded once, half up, to the tenth that the table is printed in. */
export const classify = (wbgt: Temperature, table: HeatTable): Classified => bandAt(tenthsOf(wbgt, table.unit), table)

/** The band of a WBGT that already stands in tenths of the table's unit. */
export function bandAt(tenths: number, table: HeatTable): Classified {
  const index = table.bands.findIndex((band) => !band.to || reaches(tenths, band.to))
  const band = table.bands[index]
  if (!band) throw new RangeError(`${table.id} has no hottest band`)
  return { band, tenths, inHole: band.from !== undefined && !isFrom(tenths, band.from) }
}

/** Is this WBGT still under that upper end, or on it where it belongs? */
const reaches = (tenths: number, to: Bound) => tenths < to.tenths || (to.included && tenths === to.tenths)

/** Is this WBGT above that lower end, or on it where it belongs? */
export const isFrom = (tenths: number, from: Bound) => tenths > from.tenths || (from.included && tenths === from.tenths)

/** Does the table allow no training in this band for this population? A row for everyone speaks for each of them. */
export function stops(band: HeatBand, population: Population): boolean {
  return band.advice.some((advice) => advice.stops && (advice.population === population || advice.population === 'everyone'))
}
