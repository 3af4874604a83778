import { oneRepMax, portableEstimates } from './one-rep-max.ts'
import type { ProtocolOf } from './protocol.ts'

/** One set or single so far, in the protocol's unit. */
export interface Effort {
  load: number
  reps: number
  isGood: boolean
}

/** A load to propose, never to insist on: staff enter what was loaded. */
export type NextLoad =
  | { propose: number; why: 'firstLoad' | 'afterGood' | 'afterFailed' | 'betweenGoodAndFailed'; estimate: number | null }
  /** The plates allow nothing between the best lift and the lightest failure; null when even the empty bar failed. */
  | { found: number | null }
  | { unknown: 'bodyMass' }

type LoadRules = Pick<ProtocolOf<'loaded'>['details'], 'bar' | 'loadStep' | 'stepUpTenths' | 'stepDownTenths' | 'firstLoadPercentOfMass'>

/** No more than ten repetitions, beyond which no estimate is worth much. */
const mostReps = 10

/**
 * The next load by the efforts so far: up by the larger step after a set or an easy single, by the smaller once a load has
 * failed, down after a failure, never at or above what has failed, always rounded down to what the plates allow.
 *
 * @param massAmount body mass in the protocol's unit, for the first load
 */
export function nextLoad(efforts: readonly Effort[], rules: LoadRules, sex: 'M' | 'W', massAmount: number | null): NextLoad {
  const last = efforts.at(-1)
  if (!last) return massAmount === null ? { unknown: 'bodyMass' } : firstLoad(rules, sex, massAmount)
  const best = Math.max(0, ...efforts.filter((one) => one.isGood).map((one) => one.load))
  const failed = Math.min(...efforts.filter((one) => !one.isGood).map((one) => one.load))
  const target = last.isGood ? stepUp(last, rules, failed, estimateOf(efforts)) : (last.load * (1000 - rules.stepDownTenths)) / 1000
  const wanted = loadableDown(Math.min(target, failed - 1), rules.bar, rules.loadStep)
  // A step too small for the plates is still a step: one pair of the smallest, if that has not failed yet.
  const propose = wanted > best ? wanted : loadableDown(best, rules.bar, rules.loadStep) + rules.loadStep
  if (propose >= failed || propose < rules.bar) return { found: best > 0 ? best : null }
  return { propose, why: reason(last, best, failed), estimate: estimateOf(efforts) }
}

/** The heaviest bar not above `target` that pairs of plates can make; the empty bar when the target is under it. */
export const loadableDown = (target: number, bar: number, loadStep: number): number =>
  target <= bar ? bar : bar + Math.floor((target - bar) / loadStep) * loadStep

function firstLoad(rules: LoadRules, sex: 'M' | 'W', massAmount: number): NextLoad {
  const target = (massAmount * rules.firstLoadPercentOfMass[sex]) / 100
  return { propose: loadableDown(target, rules.bar, rules.loadStep), why: 'firstLoad', estimate: null }
}

/** Never above the lowest of the estimates, while there is a set to estimate from. */
function stepUp(last: Effort, { stepUpTenths }: LoadRules, failed: number, estimate: number | null): number {
  const tenths = failed < Infinity ? stepUpTenths.min : stepUpTenths.max
  const stepped = (last.load * (1000 + tenths)) / 1000
  return estimate === null || last.reps === 1 ? stepped : Math.min(stepped, estimate)
}

/** The lowest published estimate from the heaviest good set of 2 to 10 repetitions. */
function estimateOf(efforts: readonly Effort[]): number | null {
  const sets = efforts.filter((one) => one.isGood && one.reps > 1 && one.reps <= mostReps)
  const heaviest = sets.reduce<Effort | null>((kept, next) => (kept && kept.load > next.load ? kept : next), null)
  return heaviest ? Math.min(...portableEstimates.map((name) => oneRepMax(name, heaviest.load, heaviest.reps))) : null
}

function reason(last: Effort, best: number, failed: number): 'afterGood' | 'afterFailed' | 'betweenGoodAndFailed' {
  if (best > 0 && failed < Infinity) return 'betweenGoodAndFailed'
  return last.isGood ? 'afterGood' : 'afterFailed'
}
