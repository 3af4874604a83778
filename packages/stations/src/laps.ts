import { median } from './median.ts'
import type { RunDetails } from './protocol.ts'

/** One touch as a runner crossed the line, ms after the runner's start. An inferred one was put in by a person, with a witness. */
export interface Tap {
  tapId: string
  elapsedMs: number
  inferred?: boolean
}

/** A tap that counts as a lap. */
export interface Crossing {
  tapId: string
  lap: number
  elapsedMs: number
  lapMs: number
  inferred: boolean
}

/** Something that only a person can settle. `key` stays the same while its tap does, so that an answer finds it again. */
export type LapQuestion =
  | {
      kind: 'possibleMissedCrossing'
      key: string
      lap: number
      lapMs: number
      ownPaceMs: number
      /** Half-way, from the fourth reading on: where a person may put an inferred lap. Never put there by itself. */
      proposedAtMs: number | null
    }
  | { kind: 'possibleDoubleTap'; key: string; lap: number; lapMs: number; ownPaceMs: number | null }
  /** The finish that was marked is not the crossing that completes the laps: a second counter settles it. */
  | { kind: 'finishDisagreesWithLaps'; key: string; lapsCounted: number }

export interface RunReading {
  crossings: readonly Crossing[]
  /** Kept and shown, and not counted. */
  ignored: readonly { tapId: string; elapsedMs: number; why: 'underMinimumLap' | 'sameCrossingAsFinish' }[]
  questions: readonly LapQuestion[]
  lapsToGo: number
  ownPaceMs: number | null
  /** Withheld: the line was crossed for good and the laps do not prove it. */
  outcome:
    { state: 'running' } | { state: 'finished'; elapsedMs: number; inferredLaps: number; extraCrossings: number } | { state: 'withheld' }
}

/** What of the protocol reading a run needs. */
export type LapRules = Pick<RunDetails, 'minimumLapMs' | 'askUnderLapMs' | 'missedCrossingHundredths' | 'doubleTapUnderHundredths'> & {
  track: Pick<RunDetails['track'], 'laps'>
}

/**
 * Makes laps of a runner's taps. A lap is never awarded or taken away here: a double tap under the minimum is set aside
 * and kept, everything else that looks wrong becomes a question.
 *
 * @param taps without those that a ruling withdrew
 * @param finish the finish that was marked as such: a fact of its own, whose time nothing here moves
 */
export function readRun(taps: readonly Tap[], finish: Tap | null, rules: LapRules): RunReading {
  const ignored: RunReading['ignored'][number][] = []
  const counted: Tap[] = []
  for (const tap of inOrder(finish ? [...withoutTheFinish(taps, finish, rules, ignored), finish] : taps)) {
    const isDouble = tap.elapsedMs - (counted.at(-1)?.elapsedMs ?? 0) < rules.minimumLapMs
    if (isDouble && !tap.inferred && tap !== finish) ignored.push({ tapId: tap.tapId, elapsedMs: tap.elapsedMs, why: 'underMinimumLap' })
    else counted.push(tap)
  }
  const crossings = counted.map((tap, index) => crossingOf(tap, index, counted[index - 1]?.elapsedMs ?? 0))
  const outcome = outcomeOf(crossings, finish, rules)
  return {
    crossings,
    ignored,
    questions: [...lapQuestions(crossings, rules), ...finishQuestions(crossings, finish, rules)],
    lapsToGo: Math.max(0, rules.track.laps - crossings.length),
    ownPaceMs: ownPace(crossings, rules),
    outcome,
  }
}

/** When this runner is due at the line: a median lap after the last crossing. Null when finished. */
export function predictedCrossingMs(reading: RunReading, lapMsWithoutHistory: number): number | null {
  if (reading.outcome.state !== 'running') return null
  return (reading.crossings.at(-1)?.elapsedMs ?? 0) + (reading.ownPaceMs ?? lapMsWithoutHistory)
}

/** The lap pad's order: who is due next stands first, who has finished stands last. Equal ones keep their order. */
export function dueNext<Runner extends { reading: RunReading }>(runners: readonly Runner[], lapMsWithoutHistory: number): Runner[] {
  const due = (runner: Runner) => predictedCrossingMs(runner.reading, lapMsWithoutHistory) ?? Infinity
  return [...runners].sort((one, other) => (due(one) === due(other) ? 0 : due(one) - due(other)))
}

/** Which reading is twice the runner's own median, so that one crossing was probably missed; null when none is. */
export function missedCrossingIndex(laps: readonly number[], hundredths = { from: 170, to: 230 }): number | null {
  const own = median(laps)
  const index = laps.findIndex((lap) => 100 * lap >= hundredths.from * own && 100 * lap <= hundredths.to * own)
  return index === -1 ? null : index
}

/** Which reading is far under the runner's own median, so that one crossing was probably tapped twice; null when none is. */
export function doubleTapIndex(laps: readonly number[], underHundredths = 60): number | null {
  const own = median(laps)
  const index = laps.findIndex((lap) => 100 * lap < underHundredths * own)
  return index === -1 ? null : index
}

/** A lap tapped as the runner finished and the finish itself are one crossing; the finish is the one that was meant. */
function withoutTheFinish(taps: readonly Tap[], finish: Tap, rules: LapRules, ignored: RunReading['ignored'][number][]): Tap[] {
  return taps.filter((tap) => {
    const isSame = tap.tapId === finish.tapId || (!tap.inferred && Math.abs(tap.elapsedMs - finish.elapsedMs) < rules.minimumLapMs)
    if (isSame && tap.tapId !== finish.tapId) ignored.push({ tapId: tap.tapId, elapsedMs: tap.elapsedMs, why: 'sameCrossingAsFinish' })
    return !isSame
  })
}

const inOrder = (taps: readonly Tap[]): Tap[] =>
  [...taps].sort((one, other) => one.elapsedMs - other.elapsedMs || (one.tapId < other.tapId ? -1 : one.tapId > other.tapId ? 1 : 0))

const crossingOf = (tap: Tap, index: number, previousMs: number): Crossing => ({
  tapId: tap.tapId,
  lap: index + 1,
  elapsedMs: tap.elapsedMs,
  lapMs: tap.elapsedMs - previousMs,
  inferred: tap.inferred ?? false,
})

function outcomeOf(crossings: readonly Crossing[], finish: Tap | null, rules: LapRules): RunReading['outcome'] {
  const { laps } = rules.track
  const last = crossings[laps - 1]
  if (finish && last?.tapId !== finish.tapId) return { state: 'withheld' }
  if (!last) return { state: 'running' }
  const inferredLaps = crossings.slice(0, laps).filter((crossing) => crossing.inferred).length
  return { state: 'finished', elapsedMs: last.elapsedMs, inferredLaps, extraCrossings: crossings.length - laps }
}

function finishQuestions(crossings: readonly Crossing[], finish: Tap | null, rules: LapRules): LapQuestion[] {
  if (!finish || crossings[rules.track.laps - 1]?.tapId === finish.tapId) return []
  return [{ kind: 'finishDisagreesWithLaps', key: `finish:${finish.tapId}`, lapsCounted: crossings.length }]
}

/** Asked from the third reading, against the median of them all: one odd lap does not move a median as it moves a mean. */
function lapQuestions(crossings: readonly Crossing[], rules: LapRules): LapQuestion[] {
  return crossings.flatMap((crossing): LapQuestion[] => {
    const { tapId, lap, lapMs, elapsedMs } = crossing
    if (isLong(crossing, crossings, rules)) {
      const proposedAtMs = crossings.length >= 4 ? Math.round(elapsedMs - lapMs / 2) : null
      const ownPaceMs = ownPace(crossings, rules) ?? lapMs
      return [{ kind: 'possibleMissedCrossing', key: `missed:${tapId}`, lap, lapMs, ownPaceMs, proposedAtMs }]
    }
    if (isShort(crossing, crossings, rules)) {
      return [{ kind: 'possibleDoubleTap', key: `double:${tapId}`, lap, lapMs, ownPaceMs: ownPace(crossings, rules) }]
    }
    return []
  })
}

/** The median of the laps that look like laps. */
function ownPace(crossings: readonly Crossing[], rules: LapRules): number | null {
  const plain = crossings.filter((crossing) => !isLong(crossing, crossings, rules) && !isShort(crossing, crossings, rules))
  return plain.length === 0 ? null : Math.round(median(plain.map((crossing) => crossing.lapMs)))
}

function isLong({ lapMs, inferred }: Crossing, crossings: readonly Crossing[], { missedCrossingHundredths: asks }: LapRules): boolean {
  if (crossings.length < 3 || inferred) return false
  const own = median(crossings.map((crossing) => crossing.lapMs))
  return 100 * lapMs >= asks.from * own && 100 * lapMs <= asks.to * own
}

function isShort({ lapMs, inferred }: Crossing, crossings: readonly Crossing[], rules: LapRules): boolean {
  if (inferred) return false
  if (lapMs < rules.askUnderLapMs) return true
  return crossings.length >= 3 && 100 * lapMs < rules.doubleTapUnderHundredths * median(crossings.map((crossing) => crossing.lapMs))
}
