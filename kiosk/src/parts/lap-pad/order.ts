/** One runner as the lap pad needs them. */
export interface Runner {
  state: 'running' | 'finished' | 'stopped'
  /** Laps still to go before this crossing. */
  toGo: number
  /** When they should pass the line next, on the site's clock; nothing before the first lap is known. */
  expectedAt?: number | undefined
  /** The last interval does not fit their own pace. */
  possibleMiss?: boolean | undefined
}

/** Soonest first; those without a pace yet keep their order at the end of the running, and the rest come last. */
export function inOrder<R extends Runner>(runners: readonly R[]): R[] {
  const rank = { running: 0, stopped: 1, finished: 2 }
  return [...runners].sort((a, b) => rank[a.state] - rank[b.state] || sooner(a.expectedAt, b.expectedAt))
}

function sooner(a = Infinity, b = Infinity): number {
  return a === b ? 0 : a - b
}

/** So close to the line a runner's key has a thumb above it. */
const dueWithinMs = 3_000

/** May the keys change places now? Not while somebody is due on the line: the thumb is on its way to where the key was. */
export const mayMove = (runners: readonly Runner[], now: number): boolean =>
  !runners.some(({ state, expectedAt }) => state === 'running' && expectedAt !== undefined && Math.abs(expectedAt - now) <= dueWithinMs)
