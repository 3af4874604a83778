import type { Plan, PlannedStep } from './plan.ts'
import { live, type Outcome } from './simulate.ts'
import type { Bends } from './world.ts'

export interface Shortest {
  readonly steps: readonly PlannedStep[]
  readonly outcome: Outcome
  /** How many days were lived to find it. */
  readonly lived: number
}

/**
 * The shortest day found on which the same promise breaks: the steps up to where it broke, then with ever smaller pieces
 * of them left out. It always tries the same in the same order, and stops after so many days or so many milliseconds.
 */
export async function shortest(
  plan: Plan,
  broken: Outcome,
  { bends = {}, daysAtMost = 120, msAtMost = 60_000 }: { bends?: Bends; daysAtMost?: number; msAtMost?: number } = {},
): Promise<Shortest> {
  const promise = broken.broken[0]?.promise
  const until = performance.now() + msAtMost
  let best = { steps: plan.steps, outcome: broken }
  let lived = 0
  const isOver = () => lived >= daysAtMost || performance.now() > until
  const breaksWith = async (steps: readonly PlannedStep[]): Promise<boolean> => {
    lived++
    const outcome = await live(plan, steps, bends)
    if (outcome.broken[0]?.promise !== promise) return false
    best = { steps: upTo(steps, outcome.atStep), outcome }
    return true
  }

  await breaksWith(upTo(plan.steps, broken.atStep))
  for (const device of new Set(plan.steps.map(deviceOf))) {
    if (isOver()) break
    const without = best.steps.filter((step) => deviceOf(step) !== device)
    if (without.length < best.steps.length) await breaksWith(without)
  }
  for (let size = Math.ceil(best.steps.length / 2); size >= 1 && !isOver(); size = size === 1 ? 0 : Math.ceil(size / 2)) {
    // From the end backwards: what came last mostly matters, and what is left out there shortens the prefix.
    for (let to = best.steps.length; to > 0 && !isOver(); to -= size) {
      const end = Math.min(to, best.steps.length)
      const without = [...best.steps.slice(0, Math.max(0, end - size)), ...best.steps.slice(end)]
      if (without.length < best.steps.length) await breaksWith(without)
    }
  }
  return { ...best, lived }
}

const upTo = (steps: readonly PlannedStep[], no: number) => steps.filter((step) => step.no <= no)
const deviceOf = (step: PlannedStep): string => ('device' in step ? step.device : step.kind)

export function sayStep(step: PlannedStep): string {
  const at = new Date(step.at + 2 * 3_600_000).toISOString().slice(11, 19)
  const what =
    step.kind === 'crash'
      ? `the server crashes (${step.when})`
      : step.kind === 'turn'
        ? `a turn at ${step.device}`
        : `${step.device}: ${step.kind}`
  return `  ${String(step.no).padStart(6)}  ${at}  ${what}`
}
