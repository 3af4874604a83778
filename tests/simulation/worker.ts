import { planOf } from './plan.ts'
import { sayStep, shortest } from './shortest.ts'
import { live } from './simulate.ts'

export interface Lived {
  readonly seed: number
  readonly entries: number
  readonly crashes: number
  readonly digest: string
  /** What broke, and the shortest day found on which it does; empty when every promise held. */
  readonly says: readonly string[]
}

process.on('message', ({ seed, students }: { seed: number; students: number }) => {
  liveOne(seed, students).then(
    (lived) => process.send!(lived),
    (error: unknown) =>
      process.send!({ seed, entries: 0, crashes: 0, digest: '', says: [`the simulation itself failed: ${String(error)}`] }),
  )
})

async function liveOne(seed: number, students: number): Promise<Lived> {
  const plan = planOf(seed, students)
  const outcome = await live(plan)
  const { entries, crashes, digest } = outcome
  if (outcome.broken.length === 0) return { seed, entries, crashes, digest, says: [] }
  const found = await shortest(plan, outcome)
  const broken = outcome.broken.slice(0, 5).map(({ promise, says }) => `${promise}: ${says}`)
  const again = found.outcome.broken.slice(0, 2).map(({ promise, says }) => `${promise}: ${says}`)
  const steps =
    found.steps.length <= 60
      ? found.steps.map(sayStep)
      : [...found.steps.slice(0, 20).map(sayStep), '  …', ...found.steps.slice(-40).map(sayStep)]
  const shortened = `shortest failing prefix found: ${found.steps.length} of ${plan.steps.length} steps (${found.lived} days lived to find it)`
  return { seed, entries, crashes, digest, says: [...broken, shortened, ...steps, ...again.map((line) => `  breaks ${line}`)] }
}
