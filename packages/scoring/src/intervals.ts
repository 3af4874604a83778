import { z95 } from './reliability.ts'

/** Wilson 1927: between which shares a share of `successes` in `n` lies, 95 percent. */
export function wilson95(successes: number, n: number): [number, number] {
  if (!(n > 0 && successes >= 0 && successes <= n)) throw new RangeError(`${successes} of ${n}`)
  const share = successes / n
  const square = z95 * z95
  const middle = (share + square / (2 * n)) / (1 + square / n)
  const half = (z95 * Math.sqrt((share * (1 - share)) / n + square / (4 * n * n))) / (1 + square / n)
  return [Math.max(0, middle - half), Math.min(1, middle + half)]
}

/** Ranks, from 1, between which the quantile lies, and how surely. Null when the group is too small for 95 percent. */
export interface RankInterval {
  lowerRank: number
  upperRank: number
  coverage: number
}

/** The narrowest symmetrical pair of ranks that holds the median with at least 95 percent. */
export function medianRanks95(n: number): RankInterval | null {
  const shares = binomialShares(n, 0.5)
  let outside = 0
  let found: RankInterval | null = null
  for (let rank = 1; 2 * rank <= n; rank += 1) {
    outside += shares[rank - 1] ?? 0
    if (1 - 2 * outside < 0.95) return found
    found = { lowerRank: rank, upperRank: n + 1 - rank, coverage: 1 - 2 * outside }
  }
  return found
}

/** Ranks that hold the quantile p with at least 95 percent, at most 2.5 percent left out on either side. */
export function quantileRanks95(n: number, p: number): RankInterval | null {
  const shares = binomialShares(n, p)
  const lower = lastRankUnder(shares, 0.025)
  const upper = lastRankUnder([...shares].reverse(), 0.025)
  if (lower.rank < 1 || upper.rank < 1) return null
  return { lowerRank: lower.rank, upperRank: n + 1 - upper.rank, coverage: 1 - lower.outside - upper.outside }
}

function lastRankUnder(shares: readonly number[], limit: number): { rank: number; outside: number } {
  let outside = 0
  let rank = 0
  for (const share of shares) {
    if (outside + share > limit) break
    outside += share
    rank += 1
  }
  return { rank, outside }
}

/** How likely each number of n lies below the quantile p; by sums of logarithms, so that a large n does not vanish. */
function binomialShares(n: number, p: number): number[] {
  let logChoose = 0
  return Array.from({ length: n + 1 }, (_, k) => {
    if (k > 0) logChoose += Math.log((n - k + 1) / k)
    return Math.exp(logChoose + k * Math.log(p) + (n - k) * Math.log(1 - p))
  })
}
