import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Figure } from './figures.ts'
import { appendTo, grown, queueing, viewed } from './flat-cost.ts'

const lengths = [1_000, 100_000, 1_000_000]
const rounds = 7

/** What one append, and one entry folded with two views made of it, cost with so much behind them: by turns, the median of the rounds. */
export async function costByHistory(progress: (what: string) => void): Promise<Figure[]> {
  const folder = mkdtempSync(join(tmpdir(), 'bench-'))
  const appends = []
  const views = []
  try {
    for (const length of lengths) {
      progress(`a day of ${length} entries is made`)
      const day = await grown(join(folder, `${length}.sqlite`), length)
      appends.push({ length, day, costs: [] as number[] })
      views.push({ length, day: queueing(length), costs: [] as number[] })
    }
    for (let round = 0; round <= rounds; round++) {
      progress(`round ${round} of ${rounds}`)
      for (const { day, costs } of appends) costs.push(await costOf(() => appendTo(day)))
      for (const { day, costs } of views) costs.push(await costOf(() => viewed(day)))
    }
    return [
      ...appends.map(({ length, costs }) => ({
        what: `one durable append to a day of ${length} entries`,
        value: median(costs),
        unit: 'ms',
      })),
      ...views.map(({ length, costs }) => ({
        what: `one entry folded and two views made, in a day of ${length}`,
        value: median(costs),
        unit: 'ms',
      })),
    ]
  } finally {
    await Promise.all(appends.map(({ day }) => day.ledger.close()))
    rmSync(folder, { recursive: true })
  }
}

/** Milliseconds a piece. */
async function costOf(work: () => number | Promise<number>): Promise<number> {
  const begun = performance.now()
  const pieces = await work()
  return (performance.now() - begun) / pieces
}

/** Without the first, which warms up. */
const median = ([, ...values]: readonly number[]) => values.sort((one, other) => one - other)[Math.floor(values.length / 2)]!
