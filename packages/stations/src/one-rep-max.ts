/*
 * Published estimates of the heaviest single lift from a set of `reps` with `load`; the unit that goes in comes out.
 * They only propose a next load and are never a score: errors near 5 to 7 kg in trained men, best under 10 repetitions.
 * mayhew, wathan and lombardi need an exponential, whose last bit differs between engines: computed once and never in a
 * fold. `nextLoad` does without them.
 */
const estimates = {
  epley: (load: number, reps: number) => load * (1 + reps / 30),
  brzycki: (load: number, reps: number) => (36 * load) / (37 - reps),
  lombardi: (load: number, reps: number) => load * Math.pow(reps, 0.1),
  mayhew: (load: number, reps: number) => (100 * load) / (52.2 + 41.9 * Math.exp(-0.055 * reps)),
  oconner: (load: number, reps: number) => load * (1 + 0.025 * reps),
  wathan: (load: number, reps: number) => (100 * load) / (48.8 + 53.8 * Math.exp(-0.075 * reps)),
  lander: (load: number, reps: number) => (100 * load) / (101.3 - 2.67123 * reps),
} as const

export type Estimate = keyof typeof estimates

export const estimateNames = Object.keys(estimates) as Estimate[]

/** Those of + − × ÷ alone, which come out the same on every engine. Up to ten repetitions the lowest estimate is always one of them. */
export const portableEstimates: readonly Estimate[] = ['epley', 'brzycki', 'oconner', 'lander']

/**
 * The estimate by name. One repetition is itself the maximum, whatever the formula says of it.
 *
 * @throws RangeError for no repetition, a part of one, or so many that the formula has turned over
 */
export function oneRepMax(name: Estimate, load: number, reps: number): number {
  if (!Number.isInteger(reps) || reps < 1) throw new RangeError(`${reps} repetitions`)
  if ((name === 'brzycki' && reps >= 37) || (name === 'lander' && reps >= 37)) throw new RangeError(`${name} has no answer at ${reps}`)
  return reps === 1 ? load : estimates[name](load, reps)
}

/** Reynolds, Gordon & Robergs 2006: chest press from a five-repetition maximum, kg; standard error 2.98 kg. */
export const reynoldsFromFive = (fiveRepMaxKg: number): number => 1.1307 * fiveRepMaxKg + 0.6999

/** A barbell load as the fixed-path machine of the published norms, lb (a college fitness laboratory; the plus sign from memory). Whether to use it is a site's decision. */
export const machineEquivalentLb = (freeWeightLb: number, sex: 'M' | 'W'): number =>
  sex === 'M' ? 1.016 * freeWeightLb + 18.41 : 0.848 * freeWeightLb + 21.37
