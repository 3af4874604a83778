import type { WitnessRule } from './protocol.ts'
import { inSmallest, type ReadingUnit, sayValue } from './units.ts'
import type { Step } from './working.ts'

/** What one person or device saw of one try. `happenedAtMs`: best estimate of the ledger's time. */
export interface Sighting {
  observationId: string
  amount: number
  unit: ReadingUnit
  happenedAtMs: number
}

/** How far the sightings of one attempt slot settle it. */
export type Witnessed =
  | { state: 'none' }
  | { state: 'single'; counts: Sighting }
  | { state: 'agreed'; counts: Sighting }
  /** The provisional one counts once staff have acknowledged that the readings differ; null where only a person decides. */
  | { state: 'readingsDiffer'; provisional: Sighting | null; rule: WitnessRule }
  /** Too far apart in time to be one try without a person's word. */
  | { state: 'notMerged'; apartMs: number }

/**
 * Two tablets that time one try give two sightings in one slot: equal ones agree by themselves, different ones wait.
 * A sighting that is sent again changes nothing.
 *
 * @param windowMs sightings further apart than this are never paired without a person
 */
export function witnesses(sightings: readonly Sighting[], rule: WitnessRule, windowMs: number): Witnessed {
  const [first, ...others] = [...new Map(sightings.map((one) => [one.observationId, one])).values()]
  if (!first) return { state: 'none' }
  if (others.length === 0) return { state: 'single', counts: first }
  const all = [first, ...others]
  const times = all.map((one) => one.happenedAtMs)
  const apartMs = Math.max(...times) - Math.min(...times)
  if (apartMs > windowMs) return { state: 'notMerged', apartMs }
  if (others.every((one) => smallest(one) === smallest(first))) return { state: 'agreed', counts: first }
  return { state: 'readingsDiffer', provisional: governing(all, rule), rule }
}

/** How two or more sightings came to one value, for the working of the try; nothing to say of a single one. */
export function witnessSteps(sightings: readonly Sighting[], witnessed: Witnessed): Step[] {
  if (witnessed.state !== 'agreed' && witnessed.state !== 'readingsDiffer') return []
  const counts = witnessed.state === 'agreed' ? witnessed.counts : witnessed.provisional
  return [
    ...sightings.map((one): Step => {
      const said = sayValue(one.amount, one.unit)
      return { step: 'read', rule: 'one of the witnesses', from: one.observationId, gives: said, sources: [one.observationId] }
    }),
    {
      step: 'counts',
      rule: witnessed.state === 'agreed' ? 'the witnesses agree' : `the witnesses differ, ${witnessed.rule}`,
      from: sightings.map((one) => sayValue(one.amount, one.unit)).join(' and '),
      gives: counts ? sayValue(counts.amount, counts.unit) : 'a person decides',
      sources: sightings.map((one) => one.observationId),
    },
  ]
}

/** The one that the protocol lets count: the slower of two watches, the lower of two lengths or counts. */
function governing(sightings: readonly Sighting[], rule: WitnessRule): Sighting | null {
  if (rule === 'personDecides') return null
  const wins = (one: Sighting, other: Sighting) =>
    rule === 'slowerCounts' ? smallest(one) > smallest(other) : smallest(one) < smallest(other)
  return sightings.reduce((kept, next) => (wins(next, kept) ? next : kept))
}

const smallest = (one: Sighting): number => inSmallest(one.amount, one.unit)
