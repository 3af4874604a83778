import type { Measured } from '@musterbook/vocabulary/measured'
import type { HeatReading } from './reading.ts'

/**
 * How an estimate was had; stands with it wherever it is shown. `screening` ones say too little to plan a day by.
 */
export type EstimateMethod = 'liljegren2008' | 'bernard1999' | 'stull2011' | 'simplified (screening only)' | 'heat index (screening only)'

/**
 * An estimated WBGT as it is kept: hundredths of a degree, rounded once, half up. From here on it is an integer, and no
 * engine computes it again. Throws on what is not a number: an estimate that could not be had is none.
 */
export function keptEstimate(wbgtDegC: number, method: EstimateMethod): Measured {
  if (!Number.isFinite(wbgtDegC)) throw new RangeError('no estimate was had')
  return { amount: Math.floor(wbgtDegC * 100 + 0.5), unit: 'hundredthsDegC', resolution: 1, method: `estimate: ${method}` }
}

/** A reading that carries an estimate: it may raise a hold and never lifts one. */
export function estimatedReading(
  about: Pick<HeatReading, 'readingId' | 'siteId' | 'place' | 'instrumentId' | 'sun' | 'globeDiameterMm' | 'occurredAt'>,
  wbgtDegC: number,
  method: EstimateMethod,
): HeatReading {
  return { ...about, values: { wbgt: keptEstimate(wbgtDegC, method) }, wetBulbKind: 'derived', settled: false, method: 'estimate' }
}
