/** Chance of the demonstration: the same seed gives the same day (mulberry32, public domain). */
export interface Chance {
  next(): number
  between(from: number, to: number): number
  shuffled<Item>(items: readonly Item[]): Item[]
}

export function chance(seed: number): Chance {
  let state = seed >>> 0
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0
    let t = state
    t = Math.imul(t ^ (t >>> 15), t | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296
  }
  return {
    next,
    between: (from, to) => from + next() * (to - from),
    shuffled: (items) =>
      items
        .map((item) => ({ item, at: next() }))
        .sort((one, other) => one.at - other.at)
        .map(({ item }) => item),
  }
}
