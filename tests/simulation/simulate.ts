import { createHash } from 'node:crypto'
import { recordsOf } from './checkpoints.ts'
import { Luck } from './luck.ts'
import type { Plan, PlannedStep } from './plan.ts'
import type { Broken } from './promises.ts'
import { takeTurn } from './staff.ts'
import { World, type Bends } from './world.ts'

export interface Outcome {
  readonly broken: readonly Broken[]
  /** The number of the step after which the promise broke. */
  readonly atStep: number
  readonly entries: number
  readonly events: number
  readonly refused: number
  readonly crashes: number
  readonly isSealed: boolean
  readonly late: number
  /** Of the final records: the same seed gives the same in every process. */
  readonly digest: string
  readonly counts: ReadonlyMap<string, number>
}

const minute = 60_000

/** Lives one day by its plan, looking after every entry, at each crash, at the seal and at the end. */
export async function live(plan: Plan, steps: readonly PlannedStep[] = plan.steps, bends: Bends = {}): Promise<Outcome> {
  const world = new World(plan, bends)
  const { timeline } = world
  let atStep = -1
  world.open()
  for (const step of steps) {
    timeline.at(step.at, () => {
      if (world.isBroken) return false
      atStep = step.no
      const { asked } = world.history.counts
      take(world, step)
      return step.kind !== 'turn' || world.history.counts.asked > asked
    })
  }
  const isOver = () => world.isBroken
  await timeline.run(plan.endsAt, isOver)
  if (!isOver()) {
    world.quiet()
    const isEmpty = () => [...world.devices.values()].every((device) => device.isEmpty)
    for (let waited = 0; waited < 30 && !isEmpty() && !isOver(); waited++) await timeline.run(timeline.now + minute, isOver)
    await timeline.run(timeline.now + minute, isOver)
    if (!isEmpty())
      world.broken.push({ promise: 'S7', says: `still kept on a tablet: ${world.history.unanswered().slice(0, 5).join(', ')}` })
    world.end()
    await world.look('end')
    await world.stop()
    if (!world.isBroken) await world.lookAtProjections()
  }
  return outcomeOf(world, atStep)
}

function take(world: World, step: PlannedStep): void {
  const luck = new Luck(world.plan.seed, 'step', step.no)
  if (step.kind === 'crash') return world.crash(step.when)
  const device = world.device(step.device)
  if (step.kind === 'turn') return takeTurn(world, device, luck, step.no)
  if (step.kind === 'clockJumps') return device.clockJumps(step.ms)
  if (step.kind === 'backInContact') return device.regainContact(luck)
  device.loseContact(step.kind === 'outOfContact' ? 'out' : 'deaf')
}

function outcomeOf(world: World, atStep: number): Outcome {
  const { record, history } = world
  const counts = new Map<string, number>()
  const count = (name: string) => counts.set(name, (counts.get(name) ?? 0) + 1)
  for (const { events } of record.entries) {
    for (const event of events) count(event.type === 'actRefused' ? `no: ${String(event['rule'])}` : event.type)
  }
  return {
    broken: world.flaws,
    atStep,
    entries: record.entries.length + record.site.length,
    events: record.entries.reduce((sum, { events }) => sum + events.length, 0),
    refused: history.counts.refused,
    crashes: world.counts.crashes,
    isSealed: record.facts.sealed !== null,
    late: record.facts.afterVersion,
    digest: createHash('sha256')
      .update(recordsOf(record.day))
      .update(record.entries.at(-1)?.hash ?? '')
      .digest('hex'),
    counts,
  }
}
