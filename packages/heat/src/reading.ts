import type { Measured } from '@musterbook/vocabulary/measured'

/**
 * Which wet bulb it is. The natural one stands in sun and wind; the psychrometric one is aspirated and reads lower in
 * sun, by up to 5 °C; a derived one was worked out by the meter from humidity.
 */
export type WetBulbKind = 'natural' | 'psychrometric' | 'derived'

/** One look at the instruments at one place. An observation: always kept, whatever is wrong with it. */
export interface HeatReading {
  readonly readingId: string
  readonly siteId: string
  /** The zone where it was taken. */
  readonly place: string
  readonly instrumentId: string
  /** What was read; a value that was not is absent or null. */
  readonly values: {
    readonly naturalWetBulb?: Measured | null | undefined
    readonly globe?: Measured | null | undefined
    readonly dryBulb?: Measured | null | undefined
    /** WBGT as the instrument shows it, or as it was estimated. */
    readonly wbgt?: Measured | null | undefined
  }
  /** Sun load or not: decides the formula, and is a person's judgement at the place. */
  readonly sun: boolean
  readonly wetBulbKind: WetBulbKind
  readonly globeDiameterMm: number
  readonly settled: boolean
  /** `components` were typed in; the `instrument` showed a WBGT; it is an `estimate` worked out once and stored. */
  readonly method: 'components' | 'instrument' | 'estimate'
  /** Epoch milliseconds, by the device's clock. */
  readonly occurredAt: number
}

/**
 * Not a measurement of WBGT: it may raise a hold and never lifts one. A psychrometric wet bulb in sun is one as well,
 * because it errs low by more than a flag.
 */
export const isEstimate = (reading: HeatReading) =>
  reading.method === 'estimate' || (reading.wetBulbKind === 'psychrometric' && reading.sun)

/** A WBGT that its own method marks as estimated, by whatever way it came in: `estimate`, or `estimate: ` and which one. */
export const saysEstimate = ({ method }: Measured) => method === 'estimate' || method.startsWith('estimate:')
