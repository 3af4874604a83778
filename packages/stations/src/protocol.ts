import type { Rounding } from './rounding.ts'
import { each, type ReadingUnit, sameDimension, type ScoreUnit } from './units.ts'

/**
 * One kind of station as a site adopted it: how it is measured, what counts, and what is said to the people there.
 * All of it is data, so that a new station is a new file and not new code. What gates a start is mirrored in vocabulary.
 */
export type Protocol = Common &
  (
    | { kind: 'skinfold'; details: SkinfoldDetails }
    | { kind: 'timed'; details: TimedDetails }
    | { kind: 'measured'; details: MeasuredDetails }
    | { kind: 'loaded'; details: LoadedDetails }
    | { kind: 'counted'; details: CountedDetails }
    | { kind: 'run'; details: RunDetails }
  )

export type ProtocolOf<Kind extends Protocol['kind']> = Extract<Protocol, { kind: Kind }>

/** What a try needs before it may start, beside a clearance that covers the station. None named: the clearance alone. */
export type Prerequisite = 'warmUp' | 'bodyMass'

/** What counts where two people or devices saw the same try and read different values. */
export type WitnessRule = 'slowerCounts' | 'lowerCounts' | 'personDecides'

interface Common {
  protocolId: string
  version: number
  name: string
  /** What it measures, in a sentence for the class. */
  measures: string
  steps: readonly string[]
  /** What voids a try, in sentences for the class; `faults` are the same as short names for the button. */
  voids: readonly string[]
  faults: readonly string[]
  /** What spoils a try through nobody's fault: the try is run again and none is used. */
  noFaults: readonly string[]
  /** How many official tries count; a further one that was made all the same is kept and not counted. */
  tries: number
  official: 'best' | 'last' | 'mean'
  betterIs: 'higher' | 'lower'
  /** The unit that is read, a whole number of it, and the smallest step that is read. */
  unit: ReadingUnit
  resolution: number
  /** The unit in which the score stands, and the one rounding on the way there. */
  scoreUnit: ScoreUnit
  rounding: Rounding
  /** Outside it the screen asks; nothing is ever clipped. In `unit`. */
  plausible: { min: number; max: number }
  /** A later try this far from the student's own earlier ones is asked about, in `unit`. */
  askJump: number
  minimumRestMs: number
  prerequisites: readonly Prerequisite[]
  outdoor: boolean
  maximalEffort: boolean
  witnessRule: WitnessRule
  timing?: 'hand' | 'electronic'
  judgedBy: readonly ('stationStaff' | 'spotter' | 'lapCounter')[]
  stopWhen: readonly string[]
  tellWhom: string
  cautions: readonly string[]
  /** Where the rules come from; an invented one says so. */
  source: string
  invented: boolean
}

export type SkinfoldSite = 'chest' | 'abdomen' | 'thigh' | 'triceps' | 'suprailiac' | 'subscapular' | 'midaxillary' | 'biceps'

/** Whose equation, for which sites. Pinned: see packages/scoring for the coefficients that each name stands for. */
export type DensityEquation = 'jacksonPollock3' | 'jacksonPollock7' | 'durninWomersley'

/** When a third reading is asked, as three handbooks publish it. ACSM says 1 to 2 mm; `limitMm` says which. */
export type RepeatRule = { name: 'nsca' } | { name: 'acsm'; limitMm: 1 | 2 } | { name: 'isak' }

export interface SkinfoldDetails {
  equation: DensityEquation
  conversion: 'siri' | 'brozek'
  repeatRule: RepeatRule
  /** A fold outside these is asked about, whole half-millimetres. */
  foldMin: number
  foldMax: number
}

export interface TimedDetails {
  /** The ground, in words and lengths: what a later test must match to be comparable. */
  course: { name: string; lengthMm: number; widthMm?: number; markers?: number; turningSide?: 'left' | 'right' }
  start: string
  finish: string
}

export interface MeasuredDetails {
  instrument: string
  /** Where zero lies from the soles, towards the body: 381 mm is the 15-inch mark. Only where there is a foot-line. */
  footLineMm?: number
  /** Length, width and height of the box. */
  boxMm?: { length: number; width: number; height: number }
  feetApartMm?: number
  negativeAllowed: boolean
}

export interface LoadedDetails {
  /** The empty bar, and twice the smallest plate: what loads can be made of, in the protocol's unit. */
  bar: number
  loadStep: number
  /** The maximum is looked for within about so many lifts; `tries` is where it ends. */
  aimWithin: number
  spotters: number
  /** How much further after a good lift: `max` until a load has failed, `min` from then on; in tenths of a percent. */
  stepUpTenths: { min: number; max: number }
  /** How much less after a failed lift, in tenths of a percent. */
  stepDownTenths: number
  /** The first load as a percentage of body mass, when no guess was given. */
  firstLoadPercentOfMass: { M: number; W: number }
}

export interface CountedDetails {
  /** What one count is, and for how long; none: until the student stops. */
  counts: string
  windowMs?: number
  /** Beats a minute, where a metronome leads. */
  cadencePerMinute?: number
}

export interface Track {
  lapMm: number
  laps: number
  /** How far the start stands behind the finish line. */
  startOffsetMm: number
}

export interface RunDetails {
  track: Track
  distanceMm: number
  /** How far the measured way may differ from the distance before the protocol cannot be published. */
  toleranceMm: number
  minimumLapMs: number
  /** A lap under this is asked about. */
  askUnderLapMs: number
  /** A lap of so many hundredths of the runner's own median is asked about as a possible missed crossing. */
  missedCrossingHundredths: { from: number; to: number }
  /** A lap under so many hundredths of it is asked about as a double tap. */
  doubleTapUnderHundredths: number
  didNotFinish: readonly string[]
}

/** Why this protocol cannot be adopted; none when it can. */
export function protocolProblems(protocol: Protocol): string[] {
  const { tries, plausible, resolution, rounding } = protocol
  return [
    ...(Number.isInteger(tries) && tries > 0 ? [] : ['tries must be a whole number above 0']),
    ...(plausible.min < plausible.max ? [] : ['the plausible range is empty']),
    ...(Number.isInteger(resolution) && resolution > 0 ? [] : ['the resolution must be a whole number above 0']),
    ...(Number.isInteger(rounding.to) && rounding.to > 0 ? [] : ['rounding needs a whole step above 0']),
    ...(protocol.steps.length > 0 && protocol.stopWhen.length > 0 ? [] : ['steps and when to stop must be said']),
    ...(protocol.scoreUnit === 'percentOfBodyMass' && !protocol.prerequisites.includes('bodyMass')
      ? ['a percentage of body mass needs body mass before the start']
      : []),
    ...(needsRounding(protocol) ? ['the score unit is coarser than what is read, and no rounding is named'] : []),
  ]
}

/** A reading that need not be a whole number of score units must be rounded by a rule that is named. */
function needsRounding({ unit, scoreUnit, rounding, official }: Protocol): boolean {
  if (rounding.rule !== 'none') return false
  return official === 'mean' || !sameDimension(unit, scoreUnit) || each(unit) % each(scoreUnit) !== 0
}
