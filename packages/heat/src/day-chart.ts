import { bandAt } from './classify.ts'
import type { HeatPolicy } from './policies.ts'
import type { ReadingFigures } from './reading-figures.ts'

/** What a day knows that its chart is made of. Times are epoch milliseconds. */
export interface DayOfHeat {
  readonly fromMs: number
  readonly toMs: number
  readonly readings: readonly ReadingFigures[]
  readonly holds: readonly { holdId: string; kind: string; raisedAt: number; liftedAt: number | null }[]
  /** Each time that somebody was under way outdoors. */
  readonly out: readonly { fromMs: number; toMs: number | null }[]
}

export interface DayChart {
  readonly unit: 'degC' | 'degF'
  readonly fromMs: number
  readonly toMs: number
  /** The scale: whole degrees, in tenths, around every reading and the raise threshold. */
  readonly lowestTenths: number
  readonly highestTenths: number
  readonly raiseTenths: number
  readonly points: readonly ChartPoint[]
  /** When outdoor starts had no fresh reading to rest on; empty where the policy needs none. */
  readonly withoutReading: readonly Span[]
  /** The policy's bands, cut to the scale, coolest first. */
  readonly bands: readonly { id: string; flag: string | null; fromTenths: number; toTenths: number }[]
  readonly holds: readonly (Span & { holdId: string; kind: string; lifted: boolean })[]
  /** How many were under way outdoors, as steps: each lasts until the next. */
  readonly out: readonly { fromMs: number; count: number }[]
  /** The hottest band that a reading that counts reached: tomorrow asks for it. */
  readonly worstBand: string | null
}

export interface ChartPoint {
  readonly readingId: string
  readonly atMs: number
  readonly tenths: number
  readonly band: string
  /** A doubtful one waits for its second look; it is drawn as such and never left out. */
  readonly looks: 'measured' | 'estimated' | 'notSettled' | 'doubtful'
}

interface Span {
  readonly fromMs: number
  readonly toMs: number
}

/** The chart of a day's heat, as figures: a screen draws it and sets the same figures beside it as a table. */
export function dayChart(day: DayOfHeat, policy: HeatPolicy): DayChart {
  const points = pointsOf(day, policy)
  const heights = [...points.map(({ tenths }) => tenths), policy.raise.tenths]
  const lowestTenths = Math.floor(Math.min(...heights) / 10) * 10 - 10
  const highestTenths = Math.ceil(Math.max(...heights) / 10) * 10 + 10
  const counting = points.filter(({ looks }) => looks === 'measured' || looks === 'notSettled')
  const hottest = counting.length === 0 ? null : Math.max(...counting.map(({ tenths }) => tenths))
  return {
    unit: policy.unit,
    fromMs: day.fromMs,
    toMs: day.toMs,
    lowestTenths,
    highestTenths,
    raiseTenths: policy.raise.tenths,
    points,
    withoutReading: withoutReading(day, policy),
    bands: bandsBetween(policy, lowestTenths, highestTenths),
    holds: day.holds.flatMap(({ holdId, kind, raisedAt, liftedAt }) =>
      within(day, raisedAt, liftedAt).map((span) => ({ ...span, holdId, kind, lifted: liftedAt !== null })),
    ),
    out: steps(day),
    worstBand: hottest === null ? null : bandAt(hottest, policy).band.id,
  }
}

function pointsOf(day: DayOfHeat, policy: HeatPolicy): ChartPoint[] {
  return day.readings
    .filter(({ readAt, unit }) => readAt >= day.fromMs && readAt <= day.toMs && unit === policy.unit)
    .sort((one, other) => one.readAt - other.readAt)
    .flatMap((one) =>
      one.wbgtTenths === null
        ? []
        : [
            {
              readingId: one.readingId,
              atMs: one.readAt,
              tenths: one.wbgtTenths,
              band: bandAt(one.wbgtTenths, policy).band.id,
              looks: looksOf(one),
            },
          ],
    )
}

function looksOf({ method, settled, usable }: ReadingFigures): ChartPoint['looks'] {
  if (method === 'estimate') return 'estimated'
  if (!settled) return 'notSettled'
  return usable ? 'measured' : 'doubtful'
}

function withoutReading(day: DayOfHeat, policy: HeatPolicy): Span[] {
  if (!policy.readingsNeeded) return []
  const validMs = policy.readingAgeMinutes * 60_000
  const fresh = day.readings
    .filter((one) => one.usable && one.settled && one.wbgtTenths !== null && one.method !== 'estimate')
    .map(({ readAt }) => readAt)
    .sort((one, other) => one - other)
  const ends = [Number.NEGATIVE_INFINITY, ...fresh.map((readAt) => readAt + validMs)]
  return ends.flatMap((end, index) => within(day, end, fresh[index] ?? day.toMs))
}

function bandsBetween(policy: HeatPolicy, lowest: number, highest: number): DayChart['bands'] {
  return policy.bands
    .map(({ id, flag, from, to }, index) => ({
      id,
      flag: flag ?? null,
      fromTenths: Math.max(from?.tenths ?? lowest, lowest),
      // A band is drawn up to where the next one begins: what lies between two tenths is never read.
      toTenths: Math.min(policy.bands[index + 1]?.from?.tenths ?? to?.tenths ?? highest, highest),
    }))
    .filter(({ fromTenths, toTenths }) => fromTenths < toTenths)
}

function steps(day: DayOfHeat): DayChart['out'] {
  const spans = day.out.flatMap(({ fromMs, toMs }) => within(day, fromMs, toMs))
  const turns = [...new Set([day.fromMs, ...spans.flatMap(({ fromMs, toMs }) => [fromMs, toMs])])].sort((one, other) => one - other)
  const counts = turns.map((atMs) => ({ fromMs: atMs, count: spans.filter(({ fromMs, toMs }) => fromMs <= atMs && atMs < toMs).length }))
  return counts.filter(({ count }, index) => index === 0 || count !== counts[index - 1]?.count)
}

/** A stretch of time cut to the day; none when nothing of it is left. An open one lasts to the day's end. */
function within(day: Span, fromMs: number, toMs: number | null): Span[] {
  const span = { fromMs: Math.max(fromMs, day.fromMs), toMs: Math.min(toMs ?? day.toMs, day.toMs) }
  return span.fromMs < span.toMs ? [span] : []
}
