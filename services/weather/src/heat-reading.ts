import { checkReading } from '@musterbook/heat/reading-checks'
import { type HeatReading, isEstimate, saysEstimate } from '@musterbook/heat/reading'
import { type Wbgt, wbgtOf } from '@musterbook/heat/wbgt'
import type { TakeReading } from '@musterbook/vocabulary/site'

/**
 * A reading as told, in the form that the heat rules read. Told both ways at once, by its bulbs and as the instrument
 * shows it, the hotter one governs. `occurredAt` is ledger time, best estimate.
 */
export function heatReadingOf(told: TakeReading, occurredAt: number): HeatReading {
  const shownAs = told.wbgt && saysEstimate(told.wbgt) ? 'estimate' : 'instrument'
  const components = withMethod(told, occurredAt, 'components')
  if (!told.wbgt) return components
  const shown = withMethod(told, occurredAt, shownAs)
  const tenths = (reading: HeatReading) => wbgtOf(reading, 'degC')?.tenths ?? Number.NEGATIVE_INFINITY
  return tenths(components) > tenths(shown) ? components : shown
}

function withMethod(told: TakeReading, occurredAt: number, method: HeatReading['method']): HeatReading {
  return {
    readingId: told.readingId,
    siteId: told.siteId,
    place: told.zoneId,
    instrumentId: told.instrumentId,
    values: {
      naturalWetBulb: told.naturalWetBulb ?? undefined,
      globe: told.globe ?? undefined,
      dryBulb: told.dryBulb ?? undefined,
      wbgt: told.wbgt ?? undefined,
    },
    sun: told.sun,
    wetBulbKind: told.wetBulbKind,
    globeDiameterMm: told.globeDiameterMm,
    settled: told.settled,
    method,
    occurredAt,
  }
}

/** What is found out about a reading once, when it is told; days copy it and never work it out again. */
export interface Finding {
  readonly wbgt: Wbgt | undefined
  readonly usable: boolean
  /** Why it cannot count, and the questions about it that nobody has answered. */
  readonly questions: string[]
  readonly method: HeatReading['method']
}

/** @param previous the reading before it at the same place with the same instrument */
export function findingOf(
  reading: HeatReading,
  confirmed: readonly string[],
  previous: HeatReading | undefined,
  unit: 'degC' | 'degF',
): Finding {
  const { impossible, doubts } = checkReading(reading, { previous })
  // Whether it had settled is told beside the reading, and bars the lift by itself; there is nothing to answer.
  const open = doubts.filter((doubt) => doubt !== 'notSettled' && !confirmed.includes(doubt))
  return {
    wbgt: wbgtOf(reading, unit),
    usable: impossible.length === 0 && open.length === 0,
    questions: [...impossible, ...open],
    method: isEstimate(reading) ? 'estimate' : reading.method,
  }
}
