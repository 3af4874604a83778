/** One thing measured against another in the same run: `ours` and `raw` each do their work once and say how many pieces it was. */
export interface Contest {
  readonly name: string
  readonly what: string
  readonly against: string
  readonly aim: number
  /** Whether the ratio is one of rates and the aim a least, or one of costs (the rates the other way round) and the aim a most. */
  readonly better: 'higher' | 'lower'
  readonly unit: string
  /** How often within a round the two take turns: for short work, so that a disturbance does not fall on one alone. */
  readonly turns?: number
  readonly open: () => Promise<{ ours: () => Promise<number>; raw: () => Promise<number>; close: () => Promise<void> }>
}

export interface Result {
  readonly name: string
  readonly what: string
  readonly against: string
  readonly unit: string
  readonly ours: number
  readonly raw: number
  readonly ratio: number
  readonly ratios: readonly number[]
  readonly aim: number
  readonly better: 'higher' | 'lower'
  readonly holds: boolean
}

/** A budget that several contests must hold: it is as good as the worst of them. All of one aim, and of costs. */
export interface Worst {
  readonly name: string
  readonly what: string
  readonly of: readonly Contest[]
}

const rounds = 7

export async function holdWorst({ name, what, of }: Worst, progress: (what: string) => void): Promise<Result> {
  const results: Result[] = []
  for (const contest of of) results.push(await hold(contest, progress))
  const worst = results.reduce((one, other) => (other.ratio > one.ratio ? other : one))
  const each = results.map((result) => `${result.name} ${Number(result.ratio.toPrecision(3))}`).join(', ')
  return { ...worst, name, what: `${what} (${each})` }
}

/**
 * Seven rounds, ours and raw by turns within each, so that what disturbs the machine disturbs both; the ratio is the median of the seven. One
 * round before them warms up and is not counted. A rate is pieces a second, a cost milliseconds a piece.
 */
export async function hold(contest: Contest, progress: (what: string) => void): Promise<Result> {
  const { ours, raw, close } = await contest.open()
  try {
    const measured: { ours: number; raw: number }[] = []
    for (let round = 0; round <= rounds; round++) {
      const rates = await byTurns(ours, raw, contest.turns ?? 1, round)
      if (round > 0) measured.push(rates)
      progress(`round ${round} of ${rounds}`)
    }
    const { open: _open, turns: _turns, ...named } = contest
    const figures = contest.better === 'higher' ? measured : measured.map((each) => ({ ours: 1000 / each.ours, raw: 1000 / each.raw }))
    const ratios = figures.map((each) => each.ours / each.raw)
    const ratio = median(ratios)
    const holds = contest.better === 'higher' ? ratio >= contest.aim : ratio <= contest.aim
    return { ...named, ours: median(figures.map((each) => each.ours)), raw: median(figures.map((each) => each.raw)), ratio, ratios, holds }
  } finally {
    await close()
  }
}

/** Who goes first changes, so that neither always has the colder cache. */
async function byTurns(
  ours: () => Promise<number>,
  raw: () => Promise<number>,
  turns: number,
  round: number,
): Promise<{ ours: number; raw: number }> {
  const sums = { ours: { pieces: 0, ms: 0 }, raw: { pieces: 0, ms: 0 } }
  for (let turn = 0; turn < turns; turn++) {
    for (const who of (turn + round) % 2 === 0 ? (['ours', 'raw'] as const) : (['raw', 'ours'] as const)) {
      const start = performance.now()
      sums[who].pieces += await (who === 'ours' ? ours : raw)()
      sums[who].ms += performance.now() - start
    }
  }
  return { ours: (sums.ours.pieces / sums.ours.ms) * 1000, raw: (sums.raw.pieces / sums.raw.ms) * 1000 }
}

function median(values: readonly number[]): number {
  return [...values].sort((one, other) => one - other)[Math.floor(values.length / 2)]!
}
