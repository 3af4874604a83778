import type { Protocol } from '@musterbook/stations/protocol'
import { partsOf, type ReadingUnit } from '@musterbook/stations/units'
import type { Form } from '../parts/number-pad/typing.ts'

/** How a station's values are typed, and what a typed number is in the protocol's own unit. */
export interface StationForm extends Form {
  /** Beside the value: cm, s, kg. */
  sign: string
  /** From the pad's whole number to the protocol's unit: 335 tenths of a centimetre are 335 mm. */
  amountOf(padded: number): number
  /** A value of the protocol as somebody would have typed it. */
  typedOf(amount: number): string
}

type Reads = Pick<Protocol, 'unit' | 'resolution' | 'plausible'> & { negative?: boolean }

/** From this on a time is typed as minutes and seconds. */
const longSeconds = 100

/** The pad of a protocol: its unit as people say it, and as many decimals as are read. */
export function formOf({ unit, resolution, plausible, negative = false }: Reads): StationForm {
  const { per, sign } = partsOf(unit)
  const fractions = per === 2 ? ['0', '5'] : per === 4 ? ['00', '25', '50', '75'] : undefined
  const places = fractions ? (per === 2 ? 1 : 2) : decimalsRead(per, resolution)
  const isLong = sign === 's' && plausible.max >= longSeconds * per
  const amountOf = (padded: number) => (padded * per) / 10 ** places
  return {
    places,
    negative,
    shape: isLong ? 'time' : 'number',
    fractions,
    sign: isLong ? '' : sign,
    amountOf,
    typedOf: (amount) => (isLong ? timeDigits(amount, per, places) : (amount / per).toFixed(places)),
  }
}

/** The form of one fold, in whole half-millimetres. */
export const foldForm = formOf({ unit: 'halfMillimetres', resolution: 1, plausible: { min: 0, max: 400 } })

/** Tenths alone where only tenths are read, though the unit is hundredths. */
function decimalsRead(per: number, resolution: number): number {
  const of = Math.round(Math.log10(per))
  const idle = [3, 2, 1].find((zeros) => zeros <= of && resolution % 10 ** zeros === 0) ?? 0
  return of - idle
}

function timeDigits(amount: number, per: number, places: number): string {
  const seconds = Math.floor(amount / per)
  const decimals = places > 0 ? String(Math.floor(((amount % per) * 10 ** places) / per)).padStart(places, '0') : ''
  return String(Number(`${Math.floor(seconds / 60)}${String(seconds % 60).padStart(2, '0')}${decimals}`))
}

/** What an elapsed time is in the unit of the protocol: cut off to what the watch shows, never rounded up by us. */
export const elapsedIn = (elapsedMs: number, unit: ReadingUnit): number => Math.floor((elapsedMs * partsOf(unit).per) / 1000)
