import { percentileOf, type Placing, type NormTable } from './norms.ts'
import { quantile } from './quantiles.ts'
import { z95 } from './reliability.ts'

/** A station's score, with what is known of its measurement error. */
export interface Standing {
  stationId: string
  amount: number
  betterIs: 'higher' | 'lower'
  placing: Placing
  table: NormTable | null
  /** Standard error of measurement in the score unit; null when none is known. */
  standardError: number | null
}

/** Where a standing may really lie, given how coarse its table is and how far two measurements differ. */
export interface Band {
  stationId: string
  lowest: number
  highest: number
}

export interface TrainFirst {
  stationId: string
  band: Band
  /** Only where the whole band lies under the person's own median: otherwise it is the lowest and not clearly so. */
  isClearlyLowest: boolean
}

/**
 * Lowest standing first. Percentiles are never averaged; a station without a norm is left out, which says nothing of it.
 * General words for a conversation, never a prescription.
 */
export function whereToTrainFirst(standings: readonly Standing[]): TrainFirst[] {
  const bands = standings.flatMap((standing) => bandOf(standing) ?? [])
  const own = quantile(bands.map(middle), 0.5)
  return [...bands]
    .sort((one, other) => middle(one) - middle(other) || one.highest - other.highest)
    .map((band) => ({ stationId: band.stationId, band, isClearlyLowest: bands.length > 1 && band.highest < own }))
}

/** From the row that was met up to the next one, widened by the measurement error on either side. */
function bandOf({ stationId, amount, betterIs, placing, table, standardError }: Standing): Band | null {
  const { group } = placing
  if (!group || !table || group.points.length === 0) return null
  const error = (betterIs === 'higher' ? 1 : -1) * z95 * (standardError ?? 0)
  const reach = (value: number) => percentileOf(value, { ...table, lookup: 'step' }, group).percentile
  const lowest = reach(amount - error) ?? 0
  const met = reach(amount + error) ?? 0
  const next = group.points.map((point) => point.percentile).filter((percentile) => percentile > met)
  return { stationId, lowest, highest: next.length > 0 ? Math.min(...next) : 100 }
}

const middle = ({ lowest, highest }: Band): number => (lowest + highest) / 2

/** What handbooks name for a quality, in general words of our own. */
export interface TrainingNote {
  test: string
  words: string
  source: string
}

export const trainingCaution =
  'General information, not a programme. Build up slowly, stop on pain, and ask a licensed clinician or a qualified instructor before starting, above all after illness or injury.'

/** General recommendations as the handbooks of strength and exercise testing give them; wording ours, content from memory. */
export const trainingNotes: readonly TrainingNote[] = [
  {
    test: 'run',
    words:
      'Easy running on most days of the week at a pace that allows talking; one faster session a week once that is comfortable; weekly distance rises slowly.',
    source: 'ACSM Guidelines for Exercise Testing and Prescription, aerobic training (from memory)',
  },
  {
    test: 'benchPress',
    words:
      'Pressing and pulling exercises two or three days a week with a day between, a few sets of moderate repetitions, load raised only when all repetitions are clean.',
    source: 'NSCA Essentials of Strength Training and Conditioning, resistance training (from memory)',
  },
  {
    test: 'sitAndReach',
    words: 'Slow stretches of hamstrings, hips and lower back after a warm-up, held and repeated, on most days of the week.',
    source: 'ACSM Guidelines, flexibility (from memory)',
  },
  {
    test: 'agility',
    words: 'Short sprints with turns and changes of direction, fully rested between, two days a week, with leg strength beside it.',
    source: 'NSCA Essentials, speed and agility (from memory)',
  },
  {
    test: 'skinfold',
    words:
      'An estimate of body composition, not a performance. Regular activity and eating habits change it slowly; a clinician or dietitian is the person to ask.',
    source: 'ACSM Guidelines, body composition (from memory)',
  },
]
