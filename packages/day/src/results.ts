import { publishedCategories } from '@musterbook/scoring/categories'
import type { MinimumStandard } from '@musterbook/scoring/minimum-standard'
import type { NormTable } from '@musterbook/scoring/norms'
import { scoreStation, type Score } from '@musterbook/scoring/score-station'
import type { ValidTry } from '@musterbook/stations/best-of'
import { officialResult } from '@musterbook/stations/official-result'
import type { Protocol } from '@musterbook/stations/protocol'
import { sayValue, type ReadingUnit, type ScoreUnit } from '@musterbook/stations/units'
import { witnesses, type Witnessed } from '@musterbook/stations/witnesses'
import type { Step } from '@musterbook/stations/working'
import { happenedAt } from '@musterbook/vocabulary/envelope'
import type { StationId } from '@musterbook/vocabulary/ids'
import type { ReviewReason } from '@musterbook/vocabulary/review'
import type { PinnedStation } from '@musterbook/vocabulary/rules'
import { stationOf, type Attempt, type Day, type Observation, type Review, type Student, type Told, type WeighIn } from './day.ts'
import { keptForStudent } from './kept-for-student.ts'
import { isMass, isReadable } from './readable.ts'
import { timedByWall } from './run/laps.ts'

export type ResultState = 'none' | 'provisional' | 'underReview' | 'final' | 'notCounted' | 'interrupted'

/** A station's result for one student, as the day stands: what was measured, what it comes to, and how. */
export interface StationResult {
  stationId: StationId
  state: ResultState
  /** In the score unit, rounded once; null while there is none. */
  amount: number | null
  unit: ScoreUnit
  says: string | null
  percentile: number | null
  /** '70th', 'below 10th', 'no norm'; null while there is no result. */
  placing: string | null
  group: string | null
  table: string | null
  invented: boolean
  standard: Score['standard']
  /** What a reader must know: 'oneLapInferred', 'twoReadings', 'unusualKept', 'fromPaper' … */
  notes: readonly string[]
  timing: string | null
  equipmentIds: readonly string[]
  working: readonly Step[]
  because: string | null
}

/** What of a day its results rest on, besides the student. */
const restsOn = ['opened', 'sealed', 'reviews'] as const
type OfResults = Pick<Day, (typeof restsOn)[number]>

/** Every value that S8 lets count, and what norms make of it. Computed from the day alone, so it is the same everywhere. */
export const resultOf = (day: OfResults, student: Student, station: PinnedStation): StationResult => kept(day, student, station.stationId)

const kept = keptForStudent(restsOn, (day: OfResults, student, stationId): StationResult => {
  const station = stationOf(day, stationId as StationId) as PinnedStation
  const protocol = station.protocol as unknown as Protocol
  const here = student.attempts.filter((attempt) => attempt.stationId === station.stationId)
  const counting = here.filter((attempt) => isCounting(attempt, day))
  const waiting = here.filter((attempt) => waits(attempt, day))
  const tries = counting.flatMap((attempt) => valueOf(attempt, day, protocol) ?? [])
  const blank = blankResult(station, protocol, here, waiting, student)
  if (tries.length === 0) return blank
  const { mass, waits: massWaits } = massOf(day, student)
  const official =
    protocol.kind === 'skinfold'
      ? fatOf(tries, protocol)
      : officialResult(
          protocol,
          tries,
          mass && { amount: mass.mass.amount, unit: mass.mass.unit as ReadingUnit, observationId: mass.observationId },
        )
  if ('missing' in official) return { ...blank, state: 'underReview', because: official.missing }
  const rules = day.opened?.rules
  const table = rules?.norms.find((one) => one['test'] === protocol.protocolId) as NormTable | undefined
  const standard = rules?.standard as MinimumStandard | null | undefined
  const score = scoreStation(protocol as never, official, student.normGroup, {
    ...(table && { table }),
    categories: publishedCategories,
    ...(standard && { standard }),
  })
  const counted = counting.filter((attempt) => official.counted.some((one) => one.attemptId === attempt.attemptId))
  return {
    ...blank,
    state:
      waiting.length > 0 || (protocol.scoreUnit === 'percentOfBodyMass' && massWaits)
        ? 'underReview'
        : student.signedOffAt !== null || day.sealed
          ? 'final'
          : 'provisional',
    amount: official.amount,
    unit: official.unit,
    says: sayValue(official.amount, official.unit),
    percentile: score.placing.percentile,
    placing: score.placing.label,
    group: score.placing.group ? `${student.normGroup.sex}${score.placing.group.ageFrom}–${score.placing.group.ageTo ?? ''}` : null,
    table: table ? `${table.id} (${table.edition})` : null,
    invented: table?.invented ?? false,
    standard: score.standard,
    notes: counted.flatMap((attempt) => notesOf(attempt)),
    timing: 'timing' in protocol && protocol.timing ? protocol.timing : null,
    equipmentIds: [
      ...new Set(
        counted.flatMap((attempt) => [...attempt.equipmentIds, ...attempt.observations.flatMap(({ event }) => event.equipmentIds)]),
      ),
    ],
    working: score.working,
    because: null,
  }
})

/**
 * S8: valid, official, within the number, not waiting for anybody. What contradicted the day (interrupted, beyond the
 * number, started unseen) counts only when a supervisor has said so.
 */
function isCounting(attempt: Attempt, day: OfResults): boolean {
  if (!attempt.official || attempt.ruling === 'doesNotCount' || attempt.ruling === 'retest') return false
  if (open(attempt, day).some((review) => !onlyDiffers(review) && !isAskedLate(day, review))) return false
  if (attempt.ruling === 'counts') return attempt.status === 'recorded' || attempt.status === 'interrupted'
  const startIsLate = attempt.started !== null && isLate(day, attempt.started)
  return attempt.status === 'recorded' && !attempt.extra && attempt.number > 0 && !startIsLate
}

/**
 * What holds back nothing that counts already: two readings of one try that differ show the provisional one until somebody
 * has seen it; what is told after the seal is itself left out until it is ruled in.
 */
const onlyDiffers = (review: Review): boolean => ofWhatCounts.includes(review.because)
const ofWhatCounts: readonly ReviewReason[] = ['readingsDiffer', 'equipmentOutOfTolerance', 'readBackDisputed', 'lateAfterSeal']

/** What an observation behind the seal asks about a try takes nothing from a result that is sealed: that is for a person to say. */
const isAskedLate = (day: OfResults, review: Review): boolean =>
  isLate(day, review.opened) || (review.afterSeal && (review.because === 'stopped' || review.because === 'ranUnderHold'))

/** Told after the seal, and nobody has ruled that it counts. */
function isLate(day: OfResults, told: Told): boolean {
  if (day.sealed === null) return false
  for (const review of day.reviews.values()) {
    if (review.because === 'lateAfterSeal' && review.opened.commandId === told.commandId && review.ruled?.ruling !== 'counts') return true
  }
  return false
}

/** The mass of the day: the last that can be one and, told after the seal or ruled on, may count. `waits`: something about it is open. */
function massOf(day: OfResults, student: Student): { mass: WeighIn | undefined; waits: boolean } {
  const askedOf = (one: WeighIn) =>
    [...day.reviews.values()].filter((review) => review.opened.commandId === one.observationId && review.about.attemptId === null)
  const mass = student.weighIns.findLast((one) => {
    const rulings = askedOf(one).map((review) => review.ruled?.ruling)
    if (rulings.some((ruling) => ruling === 'doesNotCount' || ruling === 'retest') || !isMass(one.mass)) return false
    return !one.afterSeal || (rulings.length > 0 && rulings.every((ruling) => ruling === 'counts'))
  })
  return { mass, waits: mass !== undefined && askedOf(mass).some((review) => !review.ruled) }
}

const open = (attempt: Attempt, day: OfResults): Review[] =>
  attempt.reviewIds.flatMap((reviewId) => day.reviews.get(reviewId) ?? []).filter((review) => !review.ruled)

const waits = (attempt: Attempt, day: OfResults): boolean =>
  attempt.status !== 'reassigned' && attempt.status !== 'void' && open(attempt, day).length > 0

/** The value of one try: as corrected, or as its witnesses have it. A skinfold's is its percent fat in hundredths. */
export function valueOf(attempt: Attempt, day: OfResults, protocol: Protocol): ValidTry | null {
  const corrected = attempt.corrections.findLast(({ change }) => change.kind === 'value')?.change
  if (corrected?.kind === 'value')
    return isReadable(corrected.value, protocol)
      ? { attemptId: attempt.attemptId, amount: corrected.value.amount, unit: corrected.value.unit as ReadingUnit }
      : null
  if (attempt.finish) return isLate(day, attempt.finish.told) ? null : runValue(attempt, protocol)
  // One saw it good and one did not: the stricter governs until somebody has ruled.
  const isDisputed = sightings(attempt, day).some(({ event }) => event.outcome !== 'good')
  if (isDisputed && attempt.ruling !== 'counts') return null
  const derived = sightings(attempt, day).findLast(({ event }) => event.outcome === 'good')?.event.derived
  if (protocol.kind === 'skinfold')
    return derived ? { attemptId: attempt.attemptId, amount: derived.percentFatHundredths, unit: 'count' } : null
  const seen = witnessed(attempt, day, protocol)
  if (seen.state === 'single' || seen.state === 'agreed')
    return { attemptId: attempt.attemptId, amount: seen.counts.amount, unit: seen.counts.unit }
  if (seen.state !== 'readingsDiffer' || !seen.provisional) return null
  return { attemptId: attempt.attemptId, amount: seen.provisional.amount, unit: seen.provisional.unit }
}

/** How far the observations of one try settle it. */
export function witnessed(attempt: Attempt, day: OfResults, protocol: Protocol): Witnessed {
  const seen = sightings(attempt, day).flatMap(({ event, told }) =>
    event.outcome === 'good' && event.value && isReadable(event.value, protocol)
      ? [
          {
            observationId: event.observationId,
            amount: event.value.amount,
            unit: event.value.unit as ReadingUnit,
            happenedAtMs: happenedAt(told),
          },
        ]
      : [],
  )
  const isMerged = attempt.reviewIds.some((reviewId) => {
    const review = day.reviews.get(reviewId)
    return review?.because === 'farApart' && review.ruled !== null
  })
  return witnesses(seen, protocol.witnessRule, isMerged ? Number.MAX_SAFE_INTEGER : (day.opened?.rules.witnessWindowMs ?? 0))
}

/** What was seen of this try; a sighting that a supervisor ruled to be of another is not among it. */
const sightings = (attempt: Attempt, day: OfResults): readonly Observation[] =>
  attempt.observations.filter(({ event, told }) => {
    if (isLate(day, told)) return false
    const review = event.reviewId ? day.reviews.get(event.reviewId) : undefined
    return !(review?.because === 'farApart' && review.ruled?.ruling === 'doesNotCount')
  })

function runValue(attempt: Attempt, protocol: Protocol): ValidTry | null {
  if (!attempt.finish || protocol.kind !== 'run') return null
  const proven = attempt.finish.laps >= protocol.details.track.laps || attempt.ruling === 'counts'
  if (!proven) return null
  return { attemptId: attempt.attemptId, amount: attempt.finish.elapsedMs, unit: 'milliseconds', before: timedByWall(attempt) }
}

/** Percent fat as it was worked out when it was recorded: hundredths kept, rounded once to tenths here. */
function fatOf(tries: readonly ValidTry[], protocol: Protocol) {
  const last = tries.at(-1)
  if (!last) return { missing: 'validTry' as const }
  const amount = Math.floor((last.amount + 5) / 10)
  const step: Step = {
    step: 'derived',
    rule: `percent fat, ${protocol.kind === 'skinfold' ? `${protocol.details.equation}, ${protocol.details.conversion}` : ''}, to the nearest tenth, halves up`,
    from: `${(last.amount / 100).toFixed(2)} %`,
    gives: sayValue(amount, 'tenthsOfPercentFat'),
    sources: [last.attemptId],
  }
  return { amount, unit: 'tenthsOfPercentFat' as const, counted: [last], working: [step] }
}

function notesOf(attempt: Attempt): string[] {
  const inferred = attempt.taps.filter((tap) => tap.inferred).length
  return [
    ...(inferred > 0 ? [inferred === 1 ? 'oneLapInferred' : 'lapsInferred'] : []),
    ...(attempt.observations.length > 1 ? ['twoReadings'] : []),
    ...(attempt.observations.some(({ event }) => event.keptUnusual) ? ['unusualKept'] : []),
    ...(attempt.observations.some(({ event }) => event.fromPaper) || attempt.taps.some((tap) => tap.fromPaper) ? ['fromPaper'] : []),
    ...(attempt.corrections.length > 0 ? ['corrected'] : []),
    ...(attempt.ruling === 'counts' ? ['countsByRuling'] : []),
  ]
}

function blankResult(
  station: PinnedStation,
  protocol: Protocol,
  here: readonly Attempt[],
  waiting: readonly Attempt[],
  student: Student,
): StationResult {
  const last = here.findLast(
    (attempt) => attempt.official && attempt.status !== 'released' && attempt.status !== 'reassigned' && attempt.status !== 'underWay',
  )
  const state = waiting.length > 0 ? 'underReview' : last?.status === 'interrupted' ? 'interrupted' : last ? 'notCounted' : 'none'
  return {
    stationId: station.stationId,
    state,
    amount: null,
    unit: protocol.scoreUnit,
    says: null,
    percentile: null,
    placing: null,
    group: null,
    table: null,
    invented: false,
    standard: null,
    notes: [],
    timing: null,
    equipmentIds: [],
    working: [],
    because:
      state === 'interrupted'
        ? (last?.interruptedBy?.by ?? null)
        : state === 'notCounted'
          ? (last?.observations[0]?.event.fault ?? last?.observations[0]?.event.outcome ?? (student.signedOffAt ? 'notTaken' : null))
          : null,
  }
}
