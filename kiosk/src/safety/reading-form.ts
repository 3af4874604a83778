import { checkReading, type CheckedReading } from '@musterbook/heat/reading-checks'
import type { HeatReading } from '@musterbook/heat/reading'
import type { ReadingStrip } from '@musterbook/day/views/parts'
import type { ReadingId, SiteId, ZoneId } from '@musterbook/vocabulary/ids'
import type { TakeReading } from '@musterbook/vocabulary/site'

/** What is chosen before a value is typed. */
export interface How {
  shown: boolean
  zoneId: string
  instrumentId: string
  unit: 'degC' | 'degF'
  sun: boolean
  wetBulbKind: TakeReading['wetBulbKind']
  globeDiameterMm: number
  settled: boolean
  /** Asked, and said all the same. */
  settledEarly: boolean
}

export type Value = 'wbgt' | 'naturalWetBulb' | 'globe' | 'dryBulb'
/** Tenths of the instrument's unit, as read. */
export type Values = Partial<Record<Value, number>>

/** Which values a way of reading asks for, in the order in which they are read. Without sun the air plays no part in the formula. */
export const valuesAsked = ({ shown }: How): readonly Value[] => (shown ? ['wbgt'] : ['naturalWetBulb', 'globe', 'dryBulb'])

export function takeReading(
  how: How,
  values: Values,
  ids: { readingId: string; siteId: string },
  confirmed: readonly string[],
): TakeReading {
  const measured = (value: Value) => {
    const amount = values[value]
    if (amount === undefined) return null
    return { amount, unit: how.unit === 'degC' ? ('tenthsDegC' as const) : ('tenthsDegF' as const), resolution: 1, method: 'instrument' }
  }
  return {
    readingId: ids.readingId as ReadingId,
    siteId: ids.siteId as SiteId,
    zoneId: how.zoneId as ZoneId,
    instrumentId: how.instrumentId,
    naturalWetBulb: measured('naturalWetBulb'),
    globe: measured('globe'),
    dryBulb: measured('dryBulb'),
    wbgt: measured('wbgt'),
    sun: how.sun,
    wetBulbKind: how.wetBulbKind,
    globeDiameterMm: how.globeDiameterMm,
    settled: how.settled,
    confirmed: [...confirmed, ...(how.settledEarly ? ['settledEarly'] : [])],
  }
}

/** What a careful person would ask about it, by the core's own checks, before it is sent. Whether it settled is said, not asked. */
export function askAbout(told: TakeReading, previous: ReadingStrip | undefined): CheckedReading['impossible'][number][] | string[] {
  const { impossible, doubts } = checkReading(heatReading(told), { previous: previous && asPrevious(told, previous) })
  return [...impossible, ...doubts.filter((doubt) => doubt !== 'notSettled')]
}

/** Impossible ones are kept and cannot be confirmed. */
export const isImpossible = (told: TakeReading): boolean => checkReading(heatReading(told)).impossible.length > 0

const heatReading = (told: TakeReading): HeatReading => ({
  readingId: told.readingId,
  siteId: told.siteId,
  place: told.zoneId,
  instrumentId: told.instrumentId,
  values: { naturalWetBulb: told.naturalWetBulb, globe: told.globe, dryBulb: told.dryBulb, wbgt: told.wbgt },
  sun: told.sun,
  wetBulbKind: told.wetBulbKind,
  globeDiameterMm: told.globeDiameterMm,
  settled: told.settled,
  method: told.wbgt ? 'instrument' : 'components',
  occurredAt: 0,
})

/** The day shows of an earlier reading what it came to: enough for an instrument that shows a WBGT. */
function asPrevious(told: TakeReading, { wbgtTenths, unit }: ReadingStrip): HeatReading | undefined {
  if (wbgtTenths === null || !told.wbgt) return undefined
  const amount = {
    amount: wbgtTenths,
    unit: unit === 'degC' ? ('tenthsDegC' as const) : ('tenthsDegF' as const),
    resolution: 1,
    method: 'instrument',
  }
  return { ...heatReading(told), values: { wbgt: amount } }
}
